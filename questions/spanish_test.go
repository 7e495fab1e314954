package questions_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"fieldsign/hub/lab/soak"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

func inSpanish(t testing.TB) *catalogue.Catalogue {
	t.Helper()
	c, err := catalogue.Builtin().In(catalogue.Spanish)
	if err != nil {
		t.Fatal(err, catalogue.Builtin().Faults(catalogue.Spanish))
	}
	return c
}

// notSpanish are the words that an English sentence can hardly do without.
var notSpanish = strings.Fields("the an of and or is are has have with which whose what its it not that does shows this these from on by for only animal's")

var word = regexp.MustCompile(`[\p{L}']+`)

func flaw(text string) string {
	lower := strings.ToLower(text)
	for _, w := range word.FindAllString(lower, -1) {
		if slices.Contains(notSpanish, w) {
			return "the English word " + w
		}
	}
	for _, odd := range []string{"  ", "%", " de el ", " a el ", " el el ", "{", "}", "..", " .", " ,", " ?", "¿ ", " de de "} {
		if strings.Contains(lower, odd) {
			return "“" + odd + "”"
		}
	}
	if strings.Count(text, "¿") != strings.Count(text, "?") {
		return "a question that is not opened, or not closed"
	}
	return ""
}

// texts are all that a question says.
func texts(q questions.Question) []string {
	out := []string{q.Prompt, q.Reason}
	for _, o := range q.Options {
		out = append(out, o.Text)
	}
	return out
}

// A thousand Spanish questions, of every template: each is proved, in sound
// Spanish as far as a program can tell, and the same as its English twin in all
// but its words.
func TestSpanishQuestions(t *testing.T) {
	asked := map[string]int{}
	for _, w := range []questions.Wish{
		{Count: soak.Size(100, 900), Seed: 1}, {Count: soak.Size(80, 250), Seed: 2, Subjects: []string{"animal", "skull", "track", "scat"}}, {Count: soak.Size(50, 100), Seed: 3, Rising: true},
		{Count: soak.Size(40, 150), Seed: 5, Subjects: []string{catalogue.FoodWeb, catalogue.Management, catalogue.Specimen}},
		{Count: soak.Size(40, 300), Seed: 6, Subjects: []string{"sign"}},
		{Count: soak.Size(20, 40), Seed: 4, Templates: []string{questions.TypeTheName, "deer-age-fine", "deer-jaw-fine"}},
		{Count: 20, Seed: 7, Templates: []string{"compound"}},
		{Count: 2, Seed: 9, Templates: []string{"deer-jaw"}}, {Count: 2, Seed: 9, Templates: []string{"where-left"}}, {Count: 2, Seed: 9, Templates: []string{"which-foot"}},
		{Count: 4, Seed: 8, Subjects: []string{catalogue.FoodWeb}, Templates: []string{"competes-with"}},
	} {
		bank := bankOf(t, catalogue.Spanish, "everything")
		set, err := bank.Set(w)
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range set {
			asked[q.Template]++
			if err := bank.Prove(q); err != nil {
				t.Errorf("%s: %v: %+v", q.Template, err, q)
			}
			if q.Language != catalogue.Spanish {
				t.Errorf("%s has the language %q", q.ID, q.Language)
			}
			for _, text := range texts(q) {
				if f := flaw(text); f != "" {
					t.Errorf("%s has %s: %s", q.Template, f, text)
				}
			}
		}
	}
	for _, name := range questions.Templates() {
		if asked[name] == 0 {
			t.Errorf("no Spanish question of template %s came up", name)
		}
	}
}

// Every animal that a sentence names has its own article before it.
func TestSpanishArticles(t *testing.T) {
	count := soak.Size(200, 1500)
	c := inSpanish(t)
	set, err := bankOf(t, catalogue.Spanish, "everything").Set(questions.Wish{Count: count, Seed: 5})
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, q := range set {
		for _, text := range []string{q.Prompt, q.Reason} {
			for _, s := range c.Species {
				for _, before := range wordsBefore(text, s.Vernacular) {
					seen[s.Name] = true
					right := []string{"el", "del", "al", "un"}
					if s.Article == "la" {
						right = []string{"la"}
					}
					if !slices.Contains(right, strings.ToLower(before)) {
						t.Errorf("%q before %s (%s): %s", before, s.Vernacular, s.Article, text)
					}
				}
			}
		}
	}
	if len(seen) < min(count/4, len(c.Species)*9/10) { // a duck's print is told from few
		t.Errorf("only %d of %d animals were named", len(seen), len(c.Species))
	}
}

// wordsBefore are the words before a name in a text.
func wordsBefore(text, name string) (out []string) {
	for rest := text; ; {
		before, after, found := strings.Cut(rest, " "+name)
		if !found {
			return out
		}
		words := word.FindAllString(before, -1)
		if next := word.FindString(after); len(words) > 0 && (next == "" || !strings.HasPrefix(after, next)) {
			out = append(out, words[len(words)-1])
		}
		rest = after
	}
}

// At stations no Spanish prompt but the first names its animal.
func TestSpanishStations(t *testing.T) {
	c := inSpanish(t)
	stations, err := bankOf(t, catalogue.Spanish, "everything").Stations(questions.StationWish{Stations: 20, Each: 4, Seed: 3,
		Replicas: []questions.Replica{{Station: 2, Species: "Castor canadensis", Subject: "skull"}, {Station: 3, Species: "Vulpes vulpes", Subject: "track"}}})
	if err != nil {
		t.Fatal(err)
	}
	for _, st := range stations {
		s, _ := c.Find(st.Species)
		for _, q := range st.Questions {
			if strings.Contains(q.Prompt, s.Vernacular) || flaw(q.Prompt) != "" {
				t.Errorf("the station of %s asks: %s", s.Vernacular, q.Prompt)
			}
		}
	}
}

// A name may be typed in Spanish, in English or in Latin; in a game in Spanish,
// what is a Spanish name is taken for one.
func TestSpanishNames(t *testing.T) {
	english, spanish := catalogue.Builtin(), inSpanish(t)
	for _, c := range []struct{ typed, inEnglish, inSpanish string }{
		{"el castor", "Castor canadensis", "Castor canadensis"}, {"beaver", "Castor canadensis", "Castor canadensis"},
		{"Castor canadensis", "Castor canadensis", "Castor canadensis"}, {"American beaver", "Castor canadensis", "Castor canadensis"},
		{"lince rojo", "Lynx rufus", "Lynx rufus"}, {"nutria", "Myocastor coypus", "Lontra canadensis"},
	} {
		for _, in := range []struct {
			c    *catalogue.Catalogue
			want string
		}{{english, c.inEnglish}, {spanish, c.inSpanish}} {
			if got, _ := questions.NewNames(in.c, in.c.Everything()).Match(c.typed); got != in.want {
				t.Errorf("in %s %q is %q, want %s", in.c.Language.Tag(), c.typed, got, in.want)
			}
		}
	}
}

// No value is put in English words: each has Spanish ones in the sheet, and what
// a question or its lesson says holds none of those that only English has.
func TestSpanishValues(t *testing.T) {
	c, allowed, said := inSpanish(t), map[string]bool{}, map[string]bool{}
	for _, tr := range c.Traits {
		for _, value := range valuesOf(tr) {
			if !strings.Contains("|"+tr.Wording.Values, "|"+value+":") {
				t.Errorf("%s has no Spanish word for %q in the column values", tr.ID, value)
			}
			for _, w := range word.FindAllString(value, -1) {
				allowed[strings.ToLower(w)] = len(w) > 3
			}
			for _, words := range strings.Split(tr.Wording.Values, "|") {
				_, spanish, _ := strings.Cut(words, ":")
				for _, w := range word.FindAllString(strings.ToLower(spanish), -1) {
					said[w] = true
				}
			}
		}
	}
	for _, text := range lessonTexts(t, c) {
		for _, w := range word.FindAllString(strings.ToLower(text), -1) {
			if allowed[w] && !said[w] {
				t.Errorf("the English value %s stands in: %s", w, text)
			}
		}
	}
}

// valuesOf are those that a trait's words have to cover.
func valuesOf(t catalogue.Trait) []string {
	switch {
	case t.From != "":
		return nil
	case t.Kind == catalogue.YesNo:
		return []string{"yes", "no"}
	}
	return t.Allowed
}

// lessonTexts are all that some questions of every subject say, and what their
// reveals say of each wrong answer.
func lessonTexts(t *testing.T, c *catalogue.Catalogue) []string {
	t.Helper()
	set, err := questions.NewBank(c, c.Everything()).Set(questions.Wish{Count: 500, Seed: 8, Subjects: catalogue.Subjects})
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	lessons, long := 0, 0
	for _, q := range set {
		out = append(out, texts(q)...)
		for taken := range q.Options {
			l, ok := questions.Teach(c, q, taken)
			if ok {
				lessons++
			}
			for _, side := range l.Sides {
				out = append(out, side.Says)
				n := len(strings.Fields(side.Says))
				if n > 8 {
					long++
				}
				if n > 16 {
					t.Errorf("%d words in a reveal: %s", n, side.Says)
				}
			}
		}
	}
	t.Logf("%d lines of %d lessons have over 8 words", long, lessons)
	if long > lessons/3 { // as TestLessons has it
		t.Errorf("%d lines of %d lessons have over 8 words", long, lessons)
	}
	return out
}
