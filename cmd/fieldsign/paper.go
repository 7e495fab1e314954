package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"slices"
	"strings"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/paper"
)

const paperHelp = `fieldsign paper prints a question set to a PDF: a quiz sheet, its key with
reasons, station cards, a team score sheet, or all of these. The same roster,
wishes and seed give the same questions, in the same order, as the first round of
a live game. A game's second round has the game's seed + 1, its third + 2, and other
questions where a round before asks or tells the same: print these by --set.

  fieldsign paper --roster furbearers --count 20 --seed 7 --kind all --out evening.pdf
  fieldsign paper --roster furbearers --count 20 --seed 7 --kind quiz --papers 2 --out quiz.pdf
  fieldsign paper --roster furbearers --count 20 --seed 7 --kind key --papers 2 --out key.pdf
  fieldsign paper --set evening.jsonl --kind all --out evening.pdf   # as the host's console saved it

With --stations it prints a station round, the twin of a live one with the same
numbers and seed: a card for each station, a sheet for each team with its start
station and rotations, the score sheet and the key. --replicas names what lies
at stations where you lay out your own.

  fieldsign paper --roster furbearers --stations 8 --per-station 3 --teams 8 --seed 7 --kind all --out bench.pdf
  fieldsign paper --set evening.jsonl --round 2 --teams 8 --kind all --out bench.pdf   # a station round that the console saved
  fieldsign paper --roster furbearers --stations 8 --replicas "3 skull American beaver, 5 scat red fox" --kind cards --out cards.pdf
`

// papering is what set to put on paper, and how.
type papering struct {
	noMemory                           bool
	sheets, roster, subjects, template string
	drawings, language                 string
	count, difficulty                  int
	seed                               uint64
	quiz                               paper.Quiz
	kind, size                         string
	out                                output
	set                                string
	round                              int
	stations                           int
	replicas                           string
}

func runPaper(_ context.Context, args []string, out io.Writer) error {
	p, err := parsePapering(args, out)
	if err != nil {
		return err
	}
	if err := p.plan(); err != nil {
		return err
	}
	if p.quiz.Title == "" {
		p.quiz.Title = titles[p.quiz.Set[0].Language]
	}
	var b bytes.Buffer // a failed run leaves no file
	if err := p.quiz.Write(&b, p.size, p.kind); err != nil {
		return fmt.Errorf("the PDF can't be made: %w", err)
	}
	if err := p.out.write(b.Bytes()); err != nil {
		return fmt.Errorf("the PDF can't be written: %w", err)
	}
	fmt.Fprintf(out, "%d questions in %s (set %s): print at 100 %% and measure the check line\n", len(p.quiz.Set), p.out.path, p.quiz.Name)
	return nil
}

var titles = map[catalogue.Language]string{catalogue.English: "Review quiz", catalogue.Spanish: "Cuestionario de repaso"}

func parsePapering(args []string, out io.Writer) (papering, error) {
	p := papering{out: output{kind: pdfOutput}}
	f := flags("paper", paperHelp, out)
	f.StringVar(&p.sheets, "catalogue", "", "a folder with sheets of your own")
	f.StringVar(&p.roster, "roster", "everything", strings.Join(catalogue.Rosters(), ", ")+", or a .csv file")
	f.StringVar(&p.subjects, "subjects", strings.Join(catalogue.Usual, ","), "which of "+strings.Join(catalogue.Subjects, ", "))
	f.StringVar(&p.template, "template", "", "only these templates, separated by commas; "+questions.TypeTheName+" is a live game's typed round")
	f.StringVar(&p.language, "language", "en", languageHelp+", and of the papers")
	f.IntVar(&p.count, "count", 10, fmt.Sprintf("how many questions, at most %d", paper.MaxQuestions))
	f.StringVar(&p.drawings, "drawings", "", drawingsHelp)
	f.IntVar(&p.difficulty, "difficulty", 0, "1 (unlike animals) to 5 (the closest look-alikes); 0: any")
	f.Uint64Var(&p.seed, "seed", 1, "another seed, another set")
	f.BoolVar(&p.noMemory, "no-memory", false, noMemoryHelp)
	f.StringVar(&p.set, "set", "", "print the questions of a set file, each proved anew")
	f.IntVar(&p.round, "round", 0, "only this round of the --set FILE, counted from 1")
	f.StringVar(&p.kind, "kind", "all", strings.Join(paper.Kinds(), ", "))
	f.StringVar(&p.quiz.Title, "title", "", "what stands at the head of the sheets (default: Review quiz, or in Spanish Cuestionario de repaso)")
	f.IntVar(&p.quiz.Papers, "papers", 1, "2: papers A and B, with questions and options in different order; the key tells both")
	f.IntVar(&p.quiz.PerStation, "per-station", 3, "questions on a station card, 1 to 5")
	f.IntVar(&p.quiz.Teams, "teams", 12, "rows of the score sheet")
	f.IntVar(&p.stations, "stations", 0, fmt.Sprintf("a station round of so many stations, %d to %d", questions.MinStations, questions.MaxStations))
	f.StringVar(&p.replicas, "replicas", "", "your own at stations, each as number, subject and animal, separated by commas")
	f.IntVar(&p.quiz.Seconds, "seconds", 120, "of a rotation, told on the teams' sheets")
	f.IntVar(&p.quiz.Walk, "walk", 30, "seconds to walk, told likewise")
	f.StringVar(&p.size, "size", "a4", "a4 or letter")
	p.out.flags(f, "out", "the PDF to write")
	if err := parse(f, args); err != nil {
		return p, err
	}
	return p, p.check(f)
}

func (p papering) check(f *flag.FlagSet) error {
	switch {
	case p.out.path == "":
		return errors.New("where to? Give --out FILE.pdf")
	case p.count > paper.MaxQuestions:
		return fmt.Errorf("--count is at most %d on paper, not %d: print the rest as another set, with another --seed", paper.MaxQuestions, p.count)
	case !slices.Contains(paper.Kinds(), p.kind):
		return fmt.Errorf("--kind is one of %s, not %q", strings.Join(paper.Kinds(), ", "), p.kind)
	case p.size != "a4" && p.size != "letter":
		return fmt.Errorf("--size is a4 or letter, not %q", p.size)
	}
	return onlySet(f, p.set, p.round)
}

// plan computes the set, by the path of the live game.
func (p *papering) plan() error {
	if p.set != "" {
		return p.read()
	}
	cat, roster, err := openRoster(p.sheets, p.roster)
	if err != nil {
		return err
	}
	if cat, err = spoken(cat, p.language); err != nil {
		return err
	}
	if p.stations > 0 || p.replicas != "" {
		return p.rotate(cat, roster)
	}
	wish := questions.Wish{Subjects: split(p.subjects), Count: p.count, Seed: p.seed, Difficulty: p.difficulty, Templates: split(p.template), Drawings: drawingsWished(p.drawings, p.template), NoMemory: p.noMemory}
	p.quiz.Catalogue, p.quiz.Seed, p.quiz.Name = cat, p.seed, setName(roster.Name, wish)
	p.quiz.Set, err = questions.NewBank(cat, roster).Set(wish)
	return err
}

// read takes the questions of a file.
func (p *papering) read() error {
	cat, err := openCatalogue(p.sheets)
	if err != nil {
		return err
	}
	set, err := openSet(cat, p.set, p.roster, p.round)
	if err != nil {
		return err
	}
	p.quiz.Catalogue, p.quiz.Set, p.quiz.Seed, p.quiz.Name = cat, set.Questions, set.Seed, fmt.Sprintf("%s, %s", set.Name, set.Roster)
	for i := range set.Rounds {
		switch stations := set.Stations(i); {
		case stations == nil:
		case len(set.Rounds) > 1:
			return fmt.Errorf("round %d of the set %s is a station round: print it by itself, with --round %d, and each other round likewise", i+1, p.set, i+1)
		default:
			p.quiz = p.quiz.Rotating(stations)
		}
	}
	return nil
}

// setName says from what, with its seed, a set can be had again.
func setName(roster string, w questions.Wish) string {
	parts := []string{roster, fmt.Sprintf("%d questions", w.Count)}
	if w.Difficulty > 0 {
		parts = append(parts, fmt.Sprintf("difficulty %d", w.Difficulty))
	}
	if !slices.Equal(w.Subjects, catalogue.Usual) {
		parts = append(parts, strings.Join(w.Subjects, "+"))
	}
	if w.NoMemory {
		parts = append(parts, "no memory")
	}
	if w.Drawings != questions.HalfDrawings && w.Drawings != questions.AsTheyCome {
		parts = append(parts, fmt.Sprintf("drawings %s", w.Drawings))
	}
	return strings.Join(append(parts, w.Templates...), ", ")
}
