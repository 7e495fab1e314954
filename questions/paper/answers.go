package paper

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// answers prints the key: the letters of each paper to mark by, what lies at
// each station, and the reasons.
func (d *document) answers(q Quiz) error {
	w, _ := d.column()
	versions, err := q.versions()
	if err != nil {
		return err
	}
	head := []block{d.words(face{"B", 18}, w, d.say("Answer key: %s", q.Title)),
		d.words(plain, w, d.say("Set %s. Keep it apart from the sheets and cards.", q.named()))}
	if q.Seed > 0 {
		head = append(head, d.words(plain, w, d.say("Seed %d: with it anyone can have these questions printed.", q.Seed)))
	}
	blocks := []block{stack(1.5, head...)}
	for _, v := range versions {
		if slices.ContainsFunc(v.asked, func(a asked) bool { return !a.Typed }) {
			blocks = append(blocks, d.letters(v, w))
		}
	}
	list, err := d.layOutList(q, w)
	if err != nil {
		return err
	}
	blocks = append(blocks, list...)
	return d.flow(d.say("key to set %s", q.named()), 2.5, append(blocks, d.reasons(q, versions, w)...))
}

// letters are the keys of a paper, ten in a row.
func (d *document) letters(v version, w float64) block {
	var cells []block
	for _, a := range v.asked {
		cells = append(cells, beside(8, d.words(plain, 8, strconv.Itoa(a.number)), d.words(bold, 8, a.keyLetter())))
	}
	title := d.say("Letters")
	if v.name != "" {
		title = d.say("Letters of paper %s", v.name)
	}
	return stack(1.5, d.words(face{"B", 11}, w, title), grid(10, w/10, .6, cells))
}

// layOutList says what lies at each station.
func (d *document) layOutList(q Quiz, w float64) ([]block, error) {
	all, err := q.stations()
	if err != nil {
		return nil, err
	}
	var lines []block
	for _, s := range all {
		lines = append(lines, beside(22, d.words(bold, 22, d.say("Station %d", s.number)), d.words(plain, w-22, s.span(d.voice)+"; "+s.lies(q))))
	}
	return titled(d.words(face{"B", 11}, w, d.say("What lies at the stations")), lines), nil
}

// titled keeps a heading with the first of what it heads.
func titled(title block, blocks []block) []block {
	first := stack(1.5, title, blocks[0])
	first.what = blocks[0].what
	return append([]block{first}, blocks[1:]...)
}

// reasons are told in the order of the first paper, with the numbers of both.
func (d *document) reasons(q Quiz, versions []version, w float64) []block {
	indent := 14 * float64(len(versions))
	var out []block
	for i, a := range versions[0].asked {
		marks := []block{}
		for _, v := range versions {
			marks = append(marks, d.words(bold, 14, v.name+v.place(i)))
		}
		key := d.words(bold, w-indent, q.right(a))
		b := beside(indent, grid(len(marks), 14, 0, marks), stack(.5, d.words(small, w-indent, a.Prompt), key, d.words(plain, w-indent, a.Reason)))
		b.what = fmt.Sprintf("the reason of question %d", a.number)
		out = append(out, b)
	}
	return titled(d.words(face{"B", 11}, w, d.say("Reasons, by number and letter")), out)
}

// right is the key in words; for a name to be typed, all that it may be called.
func (q Quiz) right(a asked) string {
	key := a.Options[a.Key]
	s, known := q.Catalogue.Find(key.Species)
	if !a.Typed || !known {
		return key.Text
	}
	also := slices.DeleteFunc(append(slices.Concat(s.OtherNames, s.OtherSpanish), s.Spanish, s.Name), func(name string) bool { return name == "" })
	return q.voice().say("%s; also %s", key.Text, strings.Join(also, ", "))
}

// place is a question's number and key on this paper, by its place in the set.
func (v version) place(of int) string {
	for _, a := range v.asked {
		if a.of == of {
			return fmt.Sprintf("%d %s", a.number, a.keyLetter())
		}
	}
	return ""
}
