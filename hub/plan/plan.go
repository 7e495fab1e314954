// Package plan turns what a host wishes for into a plan with its questions, and
// back: wishes, sets, what takes a question's place, and what an earlier game's
// debrief steers. It knows no hub.
package plan

import (
	"cmp"
	"crypto/rand"
	"encoding/binary"
	"fmt"
	"slices"
	"strings"

	"fieldsign/game"
	"fieldsign/game/debrief"
	"fieldsign/hub/codes"
	"fieldsign/hub/names"
	"fieldsign/hub/once"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/refusal"
)

// Planner turns the host's wishes into a plan with its questions.
// It is safe for concurrent use.
type Planner struct {
	Catalogue *catalogue.Catalogue
	advice    func(code string) (debrief.Advice, error) // of an earlier game; none where it is no longer kept
	Rosters   []string                                  // on offer
	Languages []string                                  // in which the catalogue can ask, by their tags
	Photos    func() []questions.PlateRef               // that the hub has of pelts and head gear
}

// Named are the rosters of some sheets by their own names, in the order of the
// sheets. A catalogue of one's own may lack a ready roster's species: then it has none
// of that name.
func (p *Planner) Named(rosters []string) (names []string, sheets map[string]string) {
	sheets = map[string]string{}
	for _, sheet := range rosters {
		roster, err := p.Catalogue.Roster(sheet)
		if err != nil || sheets[roster.Name] != "" {
			continue
		}
		names = append(names, roster.Name)
		sheets[roster.Name] = sheet
	}
	return names, sheets
}

// kept is what is made of a catalogue's roster once, however many hubs of this
// process ask for it. All are only read.
var kept struct {
	banks once.Map[offered, *questions.Bank]
	webs  once.Map[offered, questions.Web]
	names once.Map[offered, *questions.Names]
}

type offered struct {
	catalogue *catalogue.Catalogue
	in        InLanguage
}

// New offers the ready rosters, and the hub's own where it is another.
func New(c *catalogue.Catalogue, own string, advice func(code string) (debrief.Advice, error)) *Planner {
	return &Planner{Catalogue: c, advice: advice, Rosters: rostersWith(own), Languages: languagesOf(c), Photos: func() []questions.PlateRef { return nil }}
}

// InLanguage is a roster whose animals are asked about in a language.
type InLanguage struct {
	Roster   string
	Language catalogue.Language
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
func (p *Planner) offers(roster, own string) bool {
	return roster == "" || roster == own || slices.Contains(p.Rosters, roster) // none is everything
}

func (p *Planner) Bank(in InLanguage) (*questions.Bank, error) {
	return kept.banks.Get(offered{p.Catalogue, in}, func() (*questions.Bank, error) {
		words, roster, err := p.open(in)
		if err != nil {
			return nil, err
		}
		return questions.NewBank(words, roster), nil
	})
}

// Web is a roster's food web.
func (p *Planner) Web(in InLanguage) (questions.Web, error) {
	return kept.webs.Get(offered{p.Catalogue, in}, func() (questions.Web, error) {
		words, roster, err := p.open(in)
		if err != nil {
			return questions.Web{}, err
		}
		return questions.WebOf(words, roster), nil
	})
}

// open finds a roster and the catalogue in a language.
func (p *Planner) open(in InLanguage) (*catalogue.Catalogue, catalogue.Roster, error) {
	roster, err := p.Catalogue.Roster(in.Roster)
	if err != nil {
		return nil, roster, err
	}
	words, err := p.Catalogue.In(in.Language)
	return words, roster, err
}

// Played is the roster and the language of a plan.
func Played(plan game.Plan) InLanguage {
	return InLanguage{plan.Roster, catalogue.Language(plan.Language)}
}

// Option finds which option of a typed question a team means, as its
// vernacular name stands among them.
func (p *Planner) Option(in InLanguage, q game.Question, typed string) (int, error) {
	names, err := p.namesOf(in)
	if err != nil {
		return 0, err
	}
	if name, ok := names.Match(typed); ok {
		s, _ := p.Words(in.Language).Find(name)
		if i := slices.Index(q.Options, s.Vernacular); i >= 0 {
			return i, nil
		}
	}
	return 0, refusal.New(refusal.UnknownName, "No animal in play is called quite that. Check the spelling and send it again.")
}

func (p *Planner) namesOf(in InLanguage) (*questions.Names, error) {
	return kept.names.Get(offered{p.Catalogue, in}, func() (*questions.Names, error) {
		words, roster, err := p.open(in)
		if err != nil {
			return nil, err
		}
		return questions.NewNames(words, roster), nil
	})
}

// Make computes the questions, save for the rounds whose questions the host has
// chosen in the plan so far. A wish without a seed gets one by chance.
func (p *Planner) Make(w Wish, now game.Plan) (game.Plan, error) {
	if !p.offers(w.Roster, now.Roster) {
		return game.Plan{}, refusal.New(refusal.BadPlan, fmt.Sprintf("This hub has no roster %s. It has: %s.", refusal.Quote(w.Roster), strings.Join(p.Rosters, ", ")))
	}
	language, err := catalogue.ParseLanguage(w.Language)
	if err != nil {
		return game.Plan{}, refusal.New(refusal.BadPlan, err.Error())
	}
	bank, err := p.Bank(InLanguage{w.Roster, language})
	if err != nil {
		return game.Plan{}, refusal.New(refusal.BadPlan, err.Error())
	}
	if w.Seed == 0 {
		w.Seed = NewSeed()
	}
	var lessons lessons
	if w.From != "" {
		advice, err := p.advice(w.From)
		if err != nil {
			return game.Plan{}, err
		}
		lessons = lessonsOf(advice)
	}
	plan := game.Plan{Title: w.Title, Roster: w.Roster, Seed: w.Seed, From: w.From, Season: names.OneLine(w.Season), Language: string(language), NoMemory: w.NoMemory}
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
			if err := p.addStations(&round, bank, plan, w.Seed+uint64(i), lessons, r); err != nil {
				return plan, refusal.New(refusal.BadPlan, fmt.Sprintf("Round %d: %v", i+1, err))
			}
			plan.Rounds = append(plan.Rounds, round)
			continue
		}
		if r.Count < 1 || r.Count > game.MaxQuestions {
			return plan, refusal.New(refusal.BadPlan, fmt.Sprintf("Round %d: there are 1 to %d questions, not %d.", i+1, game.MaxQuestions, r.Count))
		}
		wish := p.wishFor(plan, round, r.Count, w.Seed+uint64(i))
		lessons.steer(&wish)
		set, err := bank.Set(wish)
		if err != nil {
			return plan, refusal.New(refusal.BadPlan, fmt.Sprintf("Round %d: %v", i+1, err))
		}
		if before, ok := QuestionsOf(plan); ok {
			set = bank.Apart(wish, before, set)
		}
		round.Questions = asked(set)
		plan.Rounds = append(plan.Rounds, round)
	}
	return plan, nil
}

// NewSeed draws from all that a page's number holds exactly: fewer could be
// tried out, one by one, by who has the program and sees a question.
func NewSeed() uint64 {
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
func (r RoundWish) round() game.Round {
	out := game.Round{Name: r.Name, Kind: r.Kind, Subjects: r.Subjects, Level: r.Difficulty, Typed: r.Typed,
		Seconds: r.Seconds, Points: r.Points, Speed: r.Speed, Penalty: r.Penalty, Wait: r.Wait, Animals: r.Animals, Pairs: r.Pairs}
	if r.Kind == game.Rotating && r.Station != nil {
		out.Walk = r.Station.Walk
	}
	if r.Kind != game.Rotating && !r.Typed {
		out.Drawings = string(cmp.Or(r.Drawings, questions.HalfDrawings))
	}
	return out
}

// wishFor is what questions a round of a plan is to have.
func (p *Planner) wishFor(plan game.Plan, r game.Round, count int, seed uint64) questions.Wish {
	wish := questions.Wish{Subjects: r.Subjects, Count: count, Seed: seed, Difficulty: r.Level, NoMemory: plan.NoMemory, Drawings: questions.Drawings(r.Drawings), Photos: p.Photos()}
	if len(r.Animals) > 0 {
		wish.Species = map[string]float64{}
	}
	for _, animal := range r.Animals {
		wish.Species[animal] = questions.MostWeight
	}
	for _, pair := range r.Pairs {
		for _, subject := range r.Subjects {
			wish.Pairs = append(wish.Pairs, questions.Pair{Subject: subject, A: pair.A, B: pair.B})
		}
	}
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
			g.Plate = Drawn(*q.Plate)
		}
		for _, o := range q.Options {
			g.Options = append(g.Options, o.Text)
			if o.Plate != nil {
				g.Plates = append(g.Plates, Drawn(*o.Plate))
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
	return place + "-" + codes.Token()[:16]
}

func Drawn(ref questions.PlateRef) game.Plate {
	return game.Plate{Species: ref.Species, View: ref.View, Mark: ref.Mark, Frame: ref.Frame, With: ref.With, WithView: ref.WithView}
}

// WishOf is the wish that a plan came from, for the host's form.
func (p *Planner) WishOf(plan game.Plan) Wish {
	w := Wish{Title: plan.Title, Roster: plan.Roster, Seed: plan.Seed, From: plan.From, Season: plan.Season, Language: plan.Language, NoMemory: plan.NoMemory, Rounds: []RoundWish{}}
	for _, r := range plan.Rounds {
		w.Rounds = append(w.Rounds, RoundWish{Name: r.Name, Kind: r.Kind, Subjects: r.Subjects, Count: r.Each(), Seconds: r.Seconds, Points: r.Points, Speed: r.Speed, Penalty: r.Penalty, Wait: r.Wait,
			Difficulty: r.Level, Typed: r.Typed, Animals: r.Animals, Pairs: r.Pairs, Drawings: questions.Drawings(r.Drawings), Set: setID(r), Station: p.stationWishOf(r, plan.Language)})
	}
	return w
}

// usualWait is how long a buzz waits for slower links where the host doesn't
// say: most of a school wi-fi's delays, and hardly seen.
const usualWait = 250 // ms

// First is the plan that a new game starts with.
func First(roster string) Wish {
	return Wish{Title: "Review round", Roster: roster, Rounds: []RoundWish{
		{Name: "Skulls, tracks and scat", Kind: game.Open, Subjects: []string{"skull", "track", "scat"}, Count: 8, Seconds: 30, Points: 100, Speed: 50, Wait: usualWait, Drawings: questions.HalfDrawings},
		{Name: "First to buzz", Kind: game.Buzz, Subjects: []string{"skull", "track", "scat"}, Count: 6, Seconds: 30, Points: 100, Wait: usualWait, Drawings: questions.HalfDrawings},
	}}
}
