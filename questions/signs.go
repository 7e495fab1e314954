package questions

import (
	"fmt"
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
	"fieldsign/questions/foodweb"
	"fieldsign/questions/plate"
)

// A sign is drawn by its kind and not by its maker: a view for each kind shows
// claims, and whoever provably leaves that is a maker.

const signView = "sign " // and the kind

// signShows are what the drawings of signs show. The first claim is the sign
// itself; the others are seen beside it.
var signShows = map[string][]catalogue.Claim{
	"rub":         {leaves("sign_marks_antler_rubs_on_trees")},
	"scrape":      {leaves("sign_scent_pawed_scrapes_under_a_branch")},
	"bed":         {leaves("sign_ways_flattened_beds_in_the_grass")},
	"browse-cut":  {shows("twig_ends", "cut clean")},
	"browse-torn": {shows("twig_ends", "torn")},
	"stump":       {leaves("sign_marks_felled_trees_and_gnawed_stumps")},
	"lodge":       {shows("lodge_of", "sticks and mud")},
	"dam":         {leaves("sign_built_dams_of_sticks_and_mud")},
	"push-up":     {leaves("sign_built_push-ups_on_the_ice")},
	"den":         {leaves("sign_ground_dens_with_bones_and_feathers_about")},
	"burrow":      {shows("burrow_mouth", "heap to one side")},
	"midden":      {leaves("sign_meals_middens_of_cone_scales")},
	"cone":        {leaves("sign_meals_gnawed_cones")},
	"nut":         {shows("nut_opened", "round hole")},
	"ridge":       {leaves("sign_ground_ridges_over_tunnels")},
	"mound":       {shows("burrow_mouth", "fan with a plug")},
	"pellet":      {shows("pellet_of", "fur and bones")},
	"wallow":      {leaves("sign_ground_wallows"), leaves("sign_marks_mud_and_hair_rubbed_on_trees")},
	"slide":       {leaves("sign_ways_slides_into_the_water")},
	"dust-bath":   {leaves("sign_ground_dust_baths")},
}

// marks are what a sign is at first sight. One is taken for another that is the same
// thing: a twig for a twig, a hole for a hole.
var signMarks = map[string]string{
	"rub": "trunk wood", "stump": "trunk wood gnawed", "browse-cut": "twig wood", "browse-torn": "twig wood",
	"scrape": "bare ground", "dust-bath": "bare ground", "wallow": "bare ground", "bed": "ground",
	"den": "hole", "burrow": "hole earth", "mound": "hole earth", "ridge": "earth",
	"lodge": "heap water built", "dam": "water built", "push-up": "heap water built", "slide": "water",
	"midden": "heap meal", "cone": "meal gnawed", "nut": "meal gnawed", "pellet": "meal",
}

// sameMarks counts what two signs have in common at first sight.
func sameMarks(a, b plateView) int {
	n := 0
	other := strings.Fields(signMarks[strings.TrimPrefix(b.name, signView)])
	for _, mark := range strings.Fields(signMarks[strings.TrimPrefix(a.name, signView)]) {
		if slices.Contains(other, mark) {
			n++
		}
	}
	return n
}

func leaves(trait string) catalogue.Claim { return shows(trait, "yes") }

func shows(trait, value string) catalogue.Claim {
	return catalogue.Claim{Trait: trait, Op: "=", Value: value}
}

// signViews are those of the kinds that say whose they can be.
func signViews() []plateView {
	var out []plateView
	for _, kind := range plate.SignKinds() {
		shown := signShows[kind]
		if shown == nil {
			continue
		}
		v := plateView{name: signView + kind, subject: "sign", size: sizes["sign"],
			has: func(s catalogue.Species) bool {
				return s.Has("sign") && catalogue.All(shown, s.Values) == catalogue.True
			},
			draw: func(h plate.Hand, _ catalogue.Species) (plate.Plate, bool) { return h.Sign(kind) }}
		for _, c := range shown {
			v.traits = append(v.traits, c.Trait)
		}
		out = append(out, v)
	}
	return out
}

// ofSign reports whether the question is over the drawing of a sign.
func (q Question) ofSign() bool { return q.Plate != nil && strings.HasPrefix(q.Plate.View, signView) }

// SignViews are the drawings of a species' signs.
func SignViews(s catalogue.Species) []string {
	var out []string
	for _, v := range plateViews {
		if v.subject == "sign" && v.has(s) {
			out = append(out, v.name)
		}
	}
	return out
}

// SignName is what the sign of a view is called, or nothing.
func SignName(view string, l catalogue.Language) string {
	kind, _ := strings.CutPrefix(view, signView)
	return plate.SignName(kind, l)
}

// whatSign: "What does this drawing show?" The wrong options are signs that the
// key's animal does not leave.
func whatSign(m *maker, key int) (Question, bool) { return m.anyView(key, m.signOf) }

func (m *maker) signOf(key int, v plateView) (Question, bool) {
	t := m.traits[v.traits[0]]
	if m.wish != 0 && 6-t.Ease != m.wish {
		return Question{}, false
	}
	at := slices.IndexFunc(m.facts, func(f *fact) bool { return f.trait.ID == t.ID && f.yes.has(key) && m.among(key, f.no) })
	if at < 0 {
		return Question{}, false
	}
	list := append([]statement{m.named(v)}, m.mistakenFor(key, v)...)
	if !m.enough(len(list) - 1) {
		return Question{}, false
	}
	list = list[:m.wrong+1]
	m.used.add(root(t))
	s := m.species[key]
	q := m.byStatement(About{Is: s.Name}, list)
	q.Plate, q.Prompt = m.drawing(key, v), m.book.whatSign
	q.Reason = fmt.Sprintf(m.book.signReason, sentence(SignName(v.name, m.book.language)), m.book.stated(s, t, m.facts[at].holds))
	return q, true
}

// mistakenFor are other signs that the key provably does not leave: those of most marks
// in common with a view first, and of these what the key's like could leave. One of other
// marks stands beside it only where nothing else is left.
func (m *maker) mistakenFor(key int, v plateView) []statement {
	var all []plateView
	for _, p := range m.dice.Perm(len(plateViews)) {
		if o := plateViews[p]; o.subject == m.subject && m.without(key, o) {
			all = append(all, o)
		}
	}
	rank := func(o plateView) int {
		n := 2 * sameMarks(v, o)
		if m.likely(key, o) {
			n++
		}
		return n
	}
	slices.SortStableFunc(all, func(a, b plateView) int { return rank(b) - rank(a) })
	var out []statement
	for _, o := range all {
		if sameMarks(v, o) > 0 || m.lenient == besideStrangers {
			out = append(out, m.named(o))
		}
	}
	return out
}

// without reports whether an animal provably does not leave what a view shows.
func (m *maker) without(key int, v plateView) bool {
	c := signShows[strings.TrimPrefix(v.name, signView)][0]
	t := m.traits[c.Trait]
	return m.weight(&t) >= leastTaught && c.Holds(m.value(key, c.Trait)) == catalogue.False
}

// likely reports whether one of the key's kind leaves what a view shows.
func (m *maker) likely(key int, v plateView) bool {
	c := signShows[strings.TrimPrefix(v.name, signView)][0]
	return slices.ContainsFunc(m.facts, func(f *fact) bool { return f.claim == c && m.byItsKind(key, f.yes) })
}

// byItsKind reports whether one that the key could be taken for is among some, hoofed
// if the key is: no coyote rubs antlers.
func (m *maker) byItsKind(key int, some bitset) bool {
	return slices.ContainsFunc(some.members(), func(i int) bool {
		return hoofed(m.species[i]) == hoofed(m.species[key]) && m.sights[m.subject].mistakable(key, i) && m.sharesLand(key, i)
	})
}

// sharesLand reports whether the signs of two may lie in one place: no badger makes
// slides, and no armadillo tunnels under the snow. Other subjects have look-alikes of any
// country.
func (ix *index) sharesLand(a, b int) bool {
	if ix.subject != "sign" {
		return true
	}
	x, y := ix.species[a], ix.species[b]
	return foodweb.Together([]catalogue.Species{x, y}) && !catalogue.Apart(x.Values["semi_aquatic"], y.Values["semi_aquatic"])
}

// fresh are what questions on signs near each other share not, whatever else is left: the
// same options, whose key is known the second time, the same drawing, a term and what it
// stands for.
func (q Question) fresh() []told {
	if q.Subject != "sign" {
		return nil
	}
	var texts []string
	for _, o := range q.Options {
		texts = append(texts, o.Text)
	}
	slices.Sort(texts)
	out := []told{{"", "offered " + strings.Join(texts, "; ")}}
	if q.Plate != nil {
		out = append(out, told{"", "drawn " + q.Plate.View})
	}
	c := q.Test.All[0]
	if term := related[c.Trait].term; term != "" {
		out = append(out, told{term, "shown"})
	}
	if c.Trait == "term" {
		out = append(out, told{q.keySpecies(), "shown"})
	}
	return out
}

func hoofed(s catalogue.Species) bool { return s.Values["posture"].Typical().Text == "unguligrade" }

// named is a view as an option.
func (m *maker) named(v plateView) statement {
	c := signShows[strings.TrimPrefix(v.name, signView)][0]
	return statement{sentence(SignName(v.name, m.book.language)), c, m.traits[c.Trait]}
}

// signedWell: what the drawing of a sign shows is what the key says, and the
// animal leaves it.
func signedWell(q Question, s catalogue.Species) error {
	shown := signShows[strings.TrimPrefix(q.Plate.View, signView)]
	if catalogue.All(shown, s.Values) != catalogue.True {
		return fmt.Errorf("%s is not proved to leave what the drawing shows", s.Vernacular)
	}
	if q.About != nil && !slices.Equal(q.Test.All, shown[:1]) {
		return fmt.Errorf("the drawing does not show what the key says")
	}
	return nil
}
