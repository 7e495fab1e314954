package hub

import (
	"cmp"
	"crypto/rand"
	"encoding/binary"
	"fmt"
	"slices"
	"strings"

	"fieldsign/game"
	"fieldsign/game/debrief"
	"fieldsign/hub/once"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/refusal"
)

// planner turns the host's wishes into a plan with its questions.
// It is safe for concurrent use.
type planner struct {
	catalogue *catalogue.Catalogue
	advice    func(code string) (debrief.Advice, error) // of an earlier game; none where it is no longer kept
	rosters   []string                                  // on offer
	languages []string                                  // in which the catalogue can ask, by their tags
	banks     once.Map[inLanguage, *questions.Bank]
	names     once.Map[inLanguage, *questions.Names]
}

// inLanguage is a roster whose animals are asked about in a language.
type inLanguage struct {
	roster   string
	language catalogue.Language
}

// rostersWith are the ready rosters, and the hub's own where it is another.
func rostersWith(own string) []string {
	ready := catalogue.Rosters()
	if own == "" || slices.Contains(ready, own) {
		return ready
	}
	return append(slices.Clip(ready), own)
}

// languagesOf are those in which a catalogue has all its words.
func languagesOf(c *catalogue.Catalogue) (tags []string) {
	for _, l := range []catalogue.Language{catalogue.English, catalogue.Spanish} {
		if c.Untold(l) == nil {
			tags = append(tags, l.Tag())
		}
	}
	return tags
}

// offers keeps hosts to the rosters that the hub was started with: a name could
// be that of any file on its machine. A game keeps its own.
func (p *planner) offers(roster, own string) bool {
	return roster == "" || roster == own || slices.Contains(p.rosters, roster) // none is everything
}

func (p *planner) bank(in inLanguage) (*questions.Bank, error) {
	return p.banks.Get(in, func() (*questions.Bank, error) {
		words, roster, err := p.open(in)
		if err != nil {
			return nil, err
		}
		return questions.NewBank(words, roster), nil
	})
}

// open finds a roster and the catalogue in a language.
func (p *planner) open(in inLanguage) (*catalogue.Catalogue, catalogue.Roster, error) {
	roster, err := p.catalogue.Roster(in.roster)
	if err != nil {
		return nil, roster, err
	}
	words, err := p.catalogue.In(in.language)
	return words, roster, err
}

// played is the roster and the language of a plan.
func played(plan game.Plan) inLanguage {
	return inLanguage{plan.Roster, catalogue.Language(plan.Language)}
}

// option finds which option of a typed question a team means, as its
// vernacular name stands among them.
func (p *planner) option(in inLanguage, q game.Question, typed string) (int, error) {
	names, err := p.namesOf(in)
	if err != nil {
		return 0, err
	}
	if name, ok := names.Match(typed); ok {
		s, _ := p.words(in.language).Find(name)
		if i := slices.Index(q.Options, s.Vernacular); i >= 0 {
			return i, nil
		}
	}
	return 0, refusal.New(refusal.UnknownName, "No animal in play is called quite that. Check the spelling and send it again.")
}

func (p *planner) namesOf(in inLanguage) (*questions.Names, error) {
	return p.names.Get(in, func() (*questions.Names, error) {
		words, roster, err := p.open(in)
		if err != nil {
			return nil, err
		}
		return questions.NewNames(words, roster), nil
	})
}

// plan computes the questions, save for the rounds whose questions the host has
// chosen in the plan so far. A wish without a seed gets one by chance.
func (p *planner) plan(w planWish, now game.Plan) (game.Plan, error) {
	if !p.offers(w.Roster, now.Roster) {
		return game.Plan{}, refusal.New(refusal.BadPlan, fmt.Sprintf("This hub has no roster %q. It has: %s.", printable(w.Roster), strings.Join(p.rosters, ", ")))
	}
	language, err := catalogue.ParseLanguage(w.Language)
	if err != nil {
		return game.Plan{}, refusal.New(refusal.BadPlan, err.Error())
	}
	bank, err := p.bank(inLanguage{w.Roster, language})
	if err != nil {
		return game.Plan{}, refusal.New(refusal.BadPlan, err.Error())
	}
	if w.Seed == 0 {
		w.Seed = newSeed()
	}
	var lessons lessons
	if w.From != "" {
		advice, err := p.advice(w.From)
		if err != nil {
			return game.Plan{}, err
		}
		lessons = lessonsOf(advice)
	}
	plan := game.Plan{Title: w.Title, Roster: w.Roster, Seed: w.Seed, From: w.From, Season: oneLine(w.Season), Language: string(language), NoMemory: w.NoMemory}
	for i, r := range w.Rounds {
		round := r.round()
		if r.Set != "" {
			if err := keep(&round, r.Set, plan, now); err != nil {
				return plan, err
			}
			plan.Rounds = append(plan.Rounds, round)
			continue
		}
		if r.Kind == game.Rotating {
			round, err := p.stationRound(bank, plan, w.Seed+uint64(i), lessons, r)
			if err != nil {
				return plan, refusal.New(refusal.BadPlan, fmt.Sprintf("Round %d: %v", i+1, err))
			}
			plan.Rounds = append(plan.Rounds, round)
			continue
		}
		if r.Count < 1 || r.Count > 200 {
			return plan, refusal.New(refusal.BadPlan, fmt.Sprintf("Round %d: there are 1 to 200 questions, not %d.", i+1, r.Count))
		}
		wish := wishFor(plan, round, r.Count, w.Seed+uint64(i))
		lessons.steer(&wish)
		set, err := bank.Set(wish)
		if err != nil {
			return plan, refusal.New(refusal.BadPlan, fmt.Sprintf("Round %d: %v", i+1, err))
		}
		if before, ok := questionsOf(plan); ok {
			set = bank.Apart(wish, before, set)
		}
		round.Questions = asked(set)
		plan.Rounds = append(plan.Rounds, round)
	}
	return plan, nil
}

// newSeed draws from all that a page's number holds exactly: fewer could be
// tried out, one by one, by who has the program and sees a question.
func newSeed() uint64 {
	const bits = 53
	for {
		var b [8]byte
		rand.Read(b[:]) // never fails
		if seed := binary.BigEndian.Uint64(b[:]) >> (64 - bits); seed != 0 {
			return seed
		}
	}
}

// round is what is wished, without its questions.
func (r roundWish) round() game.Round {
	out := game.Round{Name: r.Name, Kind: r.Kind, Subjects: r.Subjects, Level: r.Difficulty, Typed: r.Typed,
		Seconds: r.Seconds, Points: r.Points, Speed: r.Speed, Penalty: r.Penalty, Wait: r.Wait}
	if r.Kind == game.Rotating && r.Station != nil {
		out.Walk = r.Station.Walk
	}
	if r.Kind != game.Rotating && !r.Typed {
		out.Drawings = string(cmp.Or(r.Drawings, questions.HalfDrawings))
	}
	return out
}

// wishFor is what questions a round of a plan is to have.
func wishFor(plan game.Plan, r game.Round, count int, seed uint64) questions.Wish {
	wish := questions.Wish{Subjects: r.Subjects, Count: count, Seed: seed, Difficulty: r.Level, NoMemory: plan.NoMemory, Drawings: questions.Drawings(r.Drawings)}
	if r.Typed {
		wish.Templates, wish.Difficulty = []string{questions.TypeTheName}, 0
	}
	return wish
}

// asked are questions as a game has them.
func asked(set []questions.Question) []game.Question {
	var out []game.Question
	for _, q := range set {
		g := game.Question{ID: drawnID(q.ID), Subject: q.Subject, Prompt: q.Prompt, Typed: q.Typed, Key: q.Key, Reason: q.Reason, About: aboutOf(q), Proof: proofOf(q)}
		if q.Plate != nil {
			g.Plate = drawn(*q.Plate)
		}
		for _, o := range q.Options {
			g.Options = append(g.Options, o.Text)
			if o.Plate != nil {
				g.Plates = append(g.Plates, drawn(*o.Plate))
			}
		}
		out = append(out, g)
	}
	return out
}

// drawnID keeps of an id the place in the round, and draws the rest. It follows
// from nothing, so that no phone can try a guess of the seed against it.
func drawnID(id string) string {
	place, _, _ := strings.Cut(id, "-")
	return place + "-" + newToken()[:16]
}

func drawn(ref questions.PlateRef) game.Plate {
	return game.Plate{Species: ref.Species, View: ref.View, Mark: ref.Mark, Frame: ref.Frame, With: ref.With, WithView: ref.WithView}
}

// wishOf is the wish that a plan came from, for the host's form.
func (p *planner) wishOf(plan game.Plan) planWish {
	w := planWish{Title: plan.Title, Roster: plan.Roster, Seed: plan.Seed, From: plan.From, Season: plan.Season, Language: plan.Language, NoMemory: plan.NoMemory, Rounds: []roundWish{}}
	for _, r := range plan.Rounds {
		w.Rounds = append(w.Rounds, roundWish{r.Name, r.Kind, r.Subjects, r.Each(), r.Seconds, r.Points, r.Speed, r.Penalty, r.Wait, r.Level, r.Typed, setID(r), p.stationWishOf(r, plan.Language), questions.Drawings(r.Drawings)})
	}
	return w
}

// usualWait is how long a buzz waits for slower links where the host doesn't
// say: most of a school wi-fi's delays, and hardly seen.
const usualWait = 250 // ms

// firstPlan is the plan that a new game starts with.
func firstPlan(roster string) planWish {
	return planWish{Title: "Review round", Roster: roster, Rounds: []roundWish{
		{"Skulls, tracks and scat", game.Open, []string{"skull", "track", "scat"}, 8, 30, 100, 50, 0, usualWait, 0, false, "", nil, questions.HalfDrawings},
		{"First to buzz", game.Buzz, []string{"skull", "track", "scat"}, 6, 30, 100, 0, 0, usualWait, 0, false, "", nil, questions.HalfDrawings},
	}}
}
