// Package practice is practice alone: a roster's questions with their answers, and
// the page that works without its hub.
package practice

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"log/slog"
	"net/http"
	"slices"
	"strings"
	"time"

	"golang.org/x/time/rate"

	"fieldsign/hub/gate"
	"fieldsign/hub/once"
	"fieldsign/hub/picture"
	"fieldsign/hub/plan"
	"fieldsign/hub/wire"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/plate"
	"fieldsign/refusal"
)

// Practice alone: a roster's questions with their keys, reasons and drawings, to
// be answered without the hub. They are the catalogue's knowledge, never a
// game's: the seed is larger than any that the host's form takes.

const (
	practiceSeed = 1 << 60
	// A roster has so many questions for each of its animals, up to so many in
	// all: a small one takes long to be asked for its last, and who practises
	// comes to the same animals again anyway.
	practiceQuestions = 700
	practiceEach      = 20
	// so many bytes of drawings keep the whole under 3 MB
	practiceDrawings = 2_200_000

	practicePerSec = 40 // whole rosters sent by the hub to all phones together
	practiceBurst  = 200
)

// Practice computes each roster's exercise once. It is safe for concurrent use.
type Practice struct {
	planner *plan.Planner
	names   []string          // of the rosters on offer, the hub's own first
	sheets  map[string]string // by such a name: what the planner calls the roster
	Limit   *rate.Limiter
	log     *slog.Logger
	done    once.Map[plan.InLanguage, *exercise] // by the roster's name
}

// exercise is a roster's questions as they are sent.
type exercise struct {
	roster      string
	plain, gzip []byte
	tag         string
}

type exerciseFile struct {
	Roster   string            `json:"roster"`
	Language string            `json:"language,omitempty"` // of the questions, where it is not English
	Rosters  []string          `json:"rosters"`
	Titles   map[string]string `json:"titles"` // of the rosters, in words
	Names    map[string]string `json:"names"`  // of the species in the facts
	// The species' names by language and English name, for a page without its hub.
	Translations map[string]map[string]string `json:"translations"`
	Questions    []exerciseQuestion           `json:"questions"`
	Plates       []picture.Sheet              `json:"plates"`
	Lessons      []json.RawMessage            `json:"lessons"` // of exerciseLesson
}

type exerciseQuestion struct {
	Subject string   `json:"subject"`
	Prompt  string   `json:"prompt"`
	Options []string `json:"options"`
	Key     int      `json:"key"`
	Reason  string   `json:"reason"`
	Facts   []string `json:"facts"` // species|trait
	Plate   *int     `json:"plate,omitempty"`
	Plates  []int    `json:"plates,omitempty"` // drawings that are the options

	Lessons []int `json:"lessons,omitempty"` // by option, of the file's: what tells it from the key; of the key, from the nearest; none of a question about no animal
}

// New offers the ready rosters, and the one that the hub was started with.
func New(p *plan.Planner, own string, log *slog.Logger) *Practice {
	a := &Practice{planner: p, log: log, Limit: rate.NewLimiter(practicePerSec, practiceBurst)}
	a.names, a.sheets = p.Named(append([]string{own}, p.Rosters...))
	return a
}

// of is the exercise of a roster on offer, by its name. Whoever asks for one
// that is being computed waits for it.
func (a *Practice) of(in plan.InLanguage) (*exercise, error) {
	return a.done.Get(in, func() (*exercise, error) {
		roster, err := a.planner.Catalogue.Roster(a.sheets[in.Roster])
		if err != nil {
			return nil, err
		}
		bank, err := a.planner.Bank(plan.InLanguage{Roster: a.sheets[in.Roster], Language: in.Language})
		if err != nil {
			return nil, err
		}
		set, err := bank.Set(questions.Wish{Subjects: catalogue.Subjects[1:], Count: min(practiceQuestions, practiceEach*len(roster.Entries)), Seed: practiceSeed, Alone: true})
		if err != nil {
			return nil, err
		}
		return packed(a.fill(in, set))
	})
}

func (a *Practice) fill(in plan.InLanguage, set []questions.Question) exerciseFile {
	file := exerciseFile{Roster: in.Roster, Language: string(in.Language), Rosters: a.names, Titles: map[string]string{}, Names: map[string]string{}, Translations: plan.Translations(a.planner.Catalogue), Questions: []exerciseQuestion{}, Plates: []picture.Sheet{}}
	for _, name := range a.names {
		file.Titles[name] = in.Language.Title(name)
	}
	drawings := &picture.Folder{Places: map[picture.Sheet]int{}, Room: practiceDrawings}
	var asked []questions.Question
	for _, q := range set {
		out := exerciseQuestion{Subject: q.Subject, Prompt: q.Prompt, Key: q.Key, Reason: q.Reason}
		if !a.illustrate(&out, q, drawings) {
			continue
		}
		for _, o := range q.Options {
			out.Options = append(out.Options, o.Text)
		}
		for _, f := range q.Facts() {
			if s, ok := a.planner.Catalogue.Find(f.Species); ok {
				file.Names[f.Species] = s.Vernacular
			}
			out.Facts = append(out.Facts, f.Species+"|"+f.Trait)
		}
		file.Questions, asked = append(file.Questions, out), append(asked, q)
	}
	a.teach(&file, a.planner.Words(in.Language), asked, drawings)
	file.Plates = append(file.Plates, drawings.Plates...)
	return file
}

// illustrate draws what a question shows, unless there is no room for it.
func (a *Practice) illustrate(out *exerciseQuestion, q questions.Question, drawings *picture.Folder) bool {
	var shown []picture.Sheet
	plates, ok := questions.DrawOptions(a.planner.Catalogue, q.Options)
	if q.Plate != nil && ok {
		plates = make([]plate.Plate, 1)
		plates[0], ok = questions.Draw(a.planner.Catalogue, *q.Plate)
	}
	if !ok {
		return false
	}
	for _, p := range plates {
		shown = append(shown, picture.SheetOf(p, q.Language))
	}
	places, ok := drawings.Put(shown)
	if q.Plate != nil && ok {
		out.Plate = &places[0]
	} else {
		out.Plates = places
	}
	return ok
}

func packed(file exerciseFile) (*exercise, error) {
	var plain, small bytes.Buffer
	enc := json.NewEncoder(&plain)
	enc.SetEscapeHTML(false) // every drawing is full of angle brackets
	if err := enc.Encode(file); err != nil {
		return nil, err
	}
	z, _ := gzip.NewWriterLevel(&small, gzip.BestCompression)
	if _, err := z.Write(plain.Bytes()); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	sum := sha256.Sum256(plain.Bytes())
	return &exercise{file.Roster, plain.Bytes(), small.Bytes(), hex.EncodeToString(sum[:16])}, nil
}

// asked is the exercise that a request names; where there is none it answers itself.
func (a *Practice) asked(w http.ResponseWriter, r *http.Request) (*exercise, bool) {
	roster := r.URL.Query().Get("roster")
	if roster == "" && len(a.names) > 0 {
		roster = a.names[0]
	}
	if !slices.Contains(a.names, roster) {
		wire.Refuse(w, refusal.New(refusal.UnknownRoster, fmt.Sprintf("There is no roster of that name. There are: %s.", strings.Join(a.names, ", "))))
		return nil, false
	}
	if !a.Limit.Allow() {
		w.Header().Set("Retry-After", "2")
		wire.Refuse(w, refusal.New(refusal.TooFast, "Many phones are loading at once. Try again in a moment."))
		return nil, false
	}
	e, err := a.of(plan.InLanguage{Roster: roster, Language: a.language(r.FormValue("lang"))})
	if err != nil {
		wire.Refuse(w, refusal.New(refusal.NoQuestions, fmt.Sprintf("The roster %s gives no questions to practise: %v.", roster, err)))
		return nil, false
	}
	return e, true
}

// language is the one asked for, or English where the catalogue lacks it.
func (a *Practice) language(tag string) catalogue.Language {
	l, err := catalogue.ParseLanguage(tag)
	if err != nil || a.planner.Catalogue.Untold(l) != nil {
		return catalogue.English
	}
	return l
}

func (a *Practice) get(w http.ResponseWriter, r *http.Request) {
	e, ok := a.asked(w, r)
	if !ok {
		return
	}
	head, body, tag := w.Header(), e.plain, e.tag
	if strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		head.Set("Content-Encoding", "gzip")
		body, tag = e.gzip, e.tag+"-gzip"
	}
	head.Set("Content-Type", "application/json")
	head.Set("Vary", "Accept-Encoding")
	head.Set("ETag", `"`+tag+`"`)
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(body))
}

func (a *Practice) Routes() []gate.Route {
	return []gate.Route{
		{Method: "GET", Path: "/practice.json", For: gate.Anyone, Serve: a.get},
		{Method: "GET", Path: "/practice/save", For: gate.Anyone, Serve: a.save},
		{Method: "GET", Path: "/practice.webmanifest", For: gate.Anyone, Serve: manifest},
		{Method: "GET", Path: "/practice-worker.mjs", For: gate.Anyone, Serve: a.worker},
	}
}
