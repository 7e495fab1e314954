package view

import (
	"slices"

	"fieldsign/game"
	"fieldsign/hub/picture"
	"fieldsign/hub/plan"
	"fieldsign/hub/wire"
	"fieldsign/questions"
	"fieldsign/questions/plate"
)

// What a reveal teaches: the key's animal beside the one that most teams took
// for it, each with its drawing. Nothing of it is worked out, told or served
// before the reveal.

// lesson is what was worked out for a reveal.
type lesson struct {
	round  int
	of     game.Question
	taken  int // the option that most took for the key, or -1
	view   *wire.LessonView
	names  []string // of the animals whose drawings are the options
	plates []game.Plate
}

// lessonPlace is from where on a lesson's plates count, after those of options.
const lessonPlace = 1000

// taught completes a reveal with its lesson.
func (g *Game) taught(r *wire.RevealView, q game.Question) *wire.RevealView {
	if r == nil {
		return nil
	}
	if taken := mostTaken(q.Key, g.state.Picks()); g.lesson.round != g.state.Round || g.lesson.of.ID != q.ID || g.lesson.taken != taken {
		g.lesson = g.teach(q, taken)
	}
	with := *r
	with.Lesson, with.Names = g.lesson.view, g.lesson.names
	return &with
}

// mostTaken is the wrong option that most teams picked, or -1.
func mostTaken(key int, picks []int) int {
	most := -1
	for i, n := range picks {
		if i != key && n > 0 && (most < 0 || n > picks[most]) {
			most = i
		}
	}
	return most
}

func (g *Game) teach(planned game.Question, taken int) lesson {
	out := lesson{round: g.state.Round, of: planned, taken: taken}
	words := g.planner.Words(g.language())
	q, ok := plan.QuestionOf(planned)
	if !ok {
		return out // planned by an earlier version
	}
	if len(planned.Plates) > 0 {
		for _, o := range q.Options {
			s, _ := words.Find(o.Species)
			out.names = append(out.names, s.Vernacular)
		}
	}
	found, ok := questions.Teach(words, q, taken)
	if !ok {
		return out
	}
	out.view = &wire.LessonView{Trait: found.Trait, Parts: found.Parts, Lines: found.Lines, Recalled: found.Recalled}
	for i, side := range found.Sides {
		v := wire.SideView{Option: side.Option, Animal: side.Species.Vernacular, Latin: side.Species.Name, Says: side.Says}
		shown := game.Plate{}
		if side.Plate != nil {
			shown = plan.Drawn(*side.Plate)
			if d, ok := g.lessonDrawn(planned, shown, i); ok {
				v.Plate, v.Alt = g.address(planned, lessonPlace+i), d.AltIn(g.language())
			}
		}
		out.view.Sides, out.plates = append(out.view.Sides, v), append(out.plates, shown)
	}
	return out
}

// lessonPlate finds a plate of the lesson. It is served until the next reveal: on a slow
// network a phone asks for it when another question is open.
func (g *Game) lessonPlate(id string) (p plate.Plate, ok bool) {
	for i, shown := range g.lesson.plates {
		if g.isAt(id, g.lesson.of, lessonPlace+i) {
			return g.lessonDrawn(g.lesson.of, shown, i)
		}
	}
	return p, false
}

// lessonDrawn draws one side of the lesson: an animal that the question showed by the
// hand that drew it there, so that it is the same individual, others by one of their own.
func (g *Game) lessonDrawn(q game.Question, shown game.Plate, side int) (plate.Plate, bool) {
	place := lessonPlace + side
	if i := slices.IndexFunc(picture.PlatesOf(q), func(p game.Plate) bool {
		return p.Species == shown.Species || p.With == shown.Species && p.With != ""
	}); i >= 0 {
		place = i
	}
	_, hand := g.pictures.Sealed(g.state.Code, q, place)
	return g.pictures.Draw(shown, hand)
}
