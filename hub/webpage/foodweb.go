// Package webpage shows the food web of a roster on a screen by itself. It tells what
// the study guide tells, and nothing of any game, so anyone may ask for it.
package webpage

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"html/template"
	"log/slog"
	"maps"
	"net/http"
	"net/url"
	"slices"

	"fieldsign/hub/gate"
	"fieldsign/hub/once"
	"fieldsign/hub/plan"
	"fieldsign/questions"
	"fieldsign/questions/catalogue"
	"fieldsign/questions/foodweb"
	"fieldsign/questions/plate"
	"fieldsign/static"
)

// Screen shows the webs of the rosters on offer. It is safe for concurrent use.
type Screen struct {
	planner *plan.Planner
	log     *slog.Logger
	sheets  map[string]string // of the rosters, by their names
	drawn   once.Map[shapedWeb, plate.Plate]
}

// New offers the ready rosters.
func New(p *plan.Planner, log *slog.Logger) *Screen {
	_, sheets := p.Named(p.Rosters)
	return &Screen{planner: p, log: log, sheets: sheets}
}

// Routes are a page and its drawing.
func (s *Screen) Routes() []gate.Route {
	return []gate.Route{
		{Method: "GET", Path: "/foodweb", For: gate.Anyone, Serve: s.getFoodWeb},
		{Method: "GET", Path: "/foodweb.svg", For: gate.Anyone, Serve: s.getFoodWebSVG},
	}
}

// webShapes are the drawings' sizes in mm, for screens of 16:9 and of 4:3.
var webShapes = map[string][2]float64{"wide": {280, 150}, "tall": {230, 160}}

// shapedWeb is a drawing as it is asked for.
type shapedWeb struct {
	in    plan.InLanguage
	shape string
}

// webWords are what the page says; formats take the roster, or how many animals a
// drawing has at most.
type webWords struct{ Title, Choose, Unknown, Crowded, Back, Key string }

var webPages = map[catalogue.Language]webWords{
	catalogue.English: {"Who eats whom: %s", "Choose a roster.", "There is no roster “%s” on this hub. Choose one of these.", "The roster “%s” can't be drawn: a food web takes at most %d animals, of which one eats another. Choose another.", "Fieldsign",
		"Each arrow points to the one that eats. A broken line is drawn by a rule or from a group of animals."},
	catalogue.Spanish: {"Quién come a quién: %s", "Elija una lista.", "No hay una lista «%s» en este servidor. Elija una de estas.", "La lista «%s» no se puede dibujar: una red alimentaria admite hasta %d animales, de los que alguno coma a otro. Elija otra.", "Fieldsign",
		"Cada flecha apunta al que come. Una línea cortada sale de una regla o de un grupo de animales."},
}

//go:embed foodweb.html
var webHTML string

var webTemplate = template.Must(template.New("foodweb").Parse(webHTML))

// webView is what the page shows: a drawing in two shapes, or why there is none.
type webView struct {
	Words                 webWords
	Tag, Title            string
	Said, Alt, Wide, Tall string
	Styles, Rosters       []string
}

// getFoodWeb answers the page of a roster's food web, or of the rosters there are.
func (s *Screen) getFoodWeb(w http.ResponseWriter, r *http.Request) {
	asked, tag := r.URL.Query().Get("roster"), static.Pages().Language(r)
	view, status := s.webView(asked, tag)
	var b bytes.Buffer
	if err := webTemplate.Execute(&b, view); err != nil {
		s.log.Error("the page of the food web", "error", err)
		http.Error(w, "This page can't be made: see the hub's log.", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Language", tag)
	w.Header().Set("Vary", "Accept-Language, Cookie")
	w.WriteHeader(status)
	w.Write(b.Bytes())
}

func (s *Screen) webView(asked, tag string) (view webView, status int) {
	language, _ := catalogue.ParseLanguage(tag) // English where the catalogue has no such words
	words, site := webPages[language], static.Pages()
	view = webView{Words: words, Tag: tag, Styles: []string{site.Address(tag, "style/style.css"), site.Address(tag, "style/foodweb.css")}, Title: words.Back, Rosters: slices.Sorted(maps.Keys(s.sheets))}
	drawn, err := s.drawnWeb(shapedWeb{plan.InLanguage{Roster: asked, Language: language}, "wide"})
	switch {
	case asked == "":
		view.Said = words.Choose
	case s.sheets[asked] == "":
		view.Said = fmt.Sprintf(words.Unknown, asked)
		return view, http.StatusNotFound
	case err != nil:
		view.Said = fmt.Sprintf(words.Crowded, asked, foodweb.MostDrawn)
	default:
		picture := func(shape string) string {
			return "/foodweb.svg?" + url.Values{"roster": {asked}, "lang": {tag}, "shape": {shape}}.Encode()
		}
		view.Title, view.Alt, view.Wide, view.Tall = fmt.Sprintf(words.Title, asked), drawn.Alt, picture("wide"), picture("tall")
	}
	return view, http.StatusOK
}

// getFoodWebSVG answers the drawing that the page shows.
func (s *Screen) getFoodWebSVG(w http.ResponseWriter, r *http.Request) {
	asked := r.URL.Query()
	language, _ := catalogue.ParseLanguage(static.Pages().Language(r))
	drawn, err := s.drawnWeb(shapedWeb{plan.InLanguage{Roster: asked.Get("roster"), Language: language}, asked.Get("shape")})
	if err != nil {
		http.Error(w, "There is no such drawing: "+err.Error()+".", http.StatusNotFound)
		return
	}
	w.Header().Set("Vary", "Accept-Language, Cookie")
	static.Serve(w, r, static.SVG, []byte(drawn.SVG))
}

// drawnWeb is a drawing, worked out once. Its error says what is wrong with the wish.
func (s *Screen) drawnWeb(wish shapedWeb) (plate.Plate, error) {
	size, known := webShapes[wish.shape]
	sheet, offered := s.sheets[wish.in.Roster]
	if !known || !offered {
		return plate.Plate{}, errors.New("the shape is wide or tall, and the roster one of those at /foodweb")
	}
	return s.drawn.Get(wish, func() (plate.Plate, error) {
		roster, err := s.planner.Catalogue.Roster(sheet)
		if err != nil {
			return plate.Plate{}, err
		}
		drawn, ok := questions.DrawWeb(s.planner.Words(wish.in.Language), roster, size[0], size[1])
		if !ok {
			return drawn, fmt.Errorf("%s has no two animals of which one eats the other, or more than %d", roster.Name, foodweb.MostDrawn)
		}
		return drawn, nil
	})
}
