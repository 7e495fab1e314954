package game

import (
	"maps"
	"slices"
)

// Applied are the ids of the last commands of each actor that took effect: the same
// command has none a second time.
type Applied map[string][]string

// Has reports whether an actor's command is among them.
func (a Applied) Has(by, id string) bool { return id != "" && slices.Contains(a[by], id) }

// With has a command more, and of its actor no more than so many. It takes a over.
func (a Applied) With(by, id string, most int) Applied {
	if id == "" || a.Has(by, id) {
		return a
	}
	if a == nil {
		a = Applied{}
	}
	ids := append(a[by], id)
	a[by] = ids[max(0, len(ids)-most):]
	return a
}

// Clone copies them so that both can be handed to With.
func (a Applied) Clone() Applied {
	a = maps.Clone(a)
	for by, ids := range a {
		a[by] = slices.Clone(ids)
	}
	return a
}
