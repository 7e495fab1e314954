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
	"strings"

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
	names   []string          // of the rosters
	sheets  map[string]string // by them
	drawn   once.Map[shapedWeb, plate.Plate]
}

// New offers the ready rosters.
func New(p *plan.Planner, log *slog.Logger) *Screen {
	names, sheets := p.Named(p.Rosters)
	return &Screen{planner: p, log: log, names: names, sheets: sheets}
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

// webWords are what the page says; formats take the roster, and how many animals it
// has and a drawing takes.
type webWords struct {
	Title, Unknown, Crowded, Nothing, Back, Key, Left, One, Touch, Eats, Eaten, None, All, Likely string
}

var webPages = map[catalogue.Language]webWords{
	catalogue.English: {
		"Who eats whom: %s", "There is no roster “%s” on this hub. Choose one of these:", "“%s” has %d animals, too many for one picture: it takes %d. Choose one of these, or look at one animal at a time below.", "In “%s” no animal is known to eat another. Choose one of these:", "Fieldsign",
		"Each line starts at what is eaten, and its arrow points at who eats it. A dot is where a line branches: lines that cross without a dot have nothing to do with each other. Colours help you to follow a line and mean nothing else. Where the end of a line is broken, no book that was read names the two: it follows from the kind of animal that is eaten, or from its size.",
		"Not in the picture, as no arrow leads to or from them: %s.",
		"One at a time", "Touch a name to see what it eats and what eats it.", "What it eats", "What eats it", "nothing here", "All names", "With a broken edge: no book that was read names the two. It follows from the kind of animal that is eaten, or from its size.",
	},
	catalogue.Spanish: {
		"Quién come a quién: %s", "No hay una lista «%s» en este servidor. Elige una de estas:", "«%s» tiene %d animales, demasiados para un dibujo: caben %d. Elige una de estas, o mira abajo un animal a la vez.", "En «%s» no se sabe de ningún animal que coma a otro. Elige una de estas:", "Fieldsign",
		"Cada línea empieza en lo que se come, y su flecha apunta a quien lo come. Un punto es donde una línea se divide: las que se cruzan sin punto no tienen nada que ver. Los colores ayudan a seguir una línea y no significan nada más. Donde el final de una línea está cortado, ningún libro leído nombra a los dos: se deduce de la clase del animal que se come, o de su tamaño.",
		"No están en el dibujo, porque ninguna flecha llega a ellos ni sale de ellos: %s.",
		"Uno a la vez", "Toca un nombre para ver qué come y quién lo come.", "Qué come", "Quién lo come", "nada de esta lista", "Todos los nombres", "Con borde cortado: ningún libro leído nombra a los dos. Se deduce de la clase del animal que se come, o de su tamaño.",
	},
}

//go:embed foodweb.html
var webHTML string

var webTemplate = template.Must(template.New("foodweb").Parse(webHTML))

// webView is what the page shows: a drawing in two shapes, or why there is none, and
// what each node eats.
type webView struct {
	Words                       webWords
	Tag, Title                  string
	Said, Alt, Wide, Tall, Left string
	Styles                      []string
	Rosters                     []rosterLink
	Nodes                       []webNode
}

// rosterLink is a roster on offer.
type rosterLink struct {
	Name, Title string
	Chosen      bool
	Drawn       bool
}

// webNode is an animal or a kind of food, with what it eats and what eats it.
type webNode struct {
	webLink
	Eats, Eaten []webLink
}

type webLink struct {
	Name   string
	Likely bool // by a rule or a group
}

// ID is where on the page a node of that name stands.
func (l webLink) ID() string { return strings.ReplaceAll(l.Name, " ", "-") }

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
	view = webView{Words: words, Tag: tag, Styles: []string{site.Address(tag, "style/style.css"), site.Address(tag, "style/foodweb.css")}}
	for _, name := range s.names {
		web, err := s.web(plan.InLanguage{Roster: name, Language: language})
		drawn := err == nil && web.Drawable()
		if asked == "" && drawn {
			asked = name
		}
		view.Rosters = append(view.Rosters, rosterLink{name, language.Title(name), name == asked, drawn})
	}
	view.Title = fmt.Sprintf(words.Title, language.Title(asked))
	web, err := s.web(plan.InLanguage{Roster: asked, Language: language})
	if err != nil {
		view.Said = fmt.Sprintf(words.Unknown, asked)
		return view, http.StatusNotFound
	}
	view.Nodes = nodesOf(web)
	drawn, err := s.drawnWeb(shapedWeb{plan.InLanguage{Roster: asked, Language: language}, "wide"})
	switch {
	case len(web.Edges) == 0:
		view.Said = fmt.Sprintf(words.Nothing, language.Title(asked))
	case err != nil:
		view.Said = fmt.Sprintf(words.Crowded, language.Title(asked), web.Animals, foodweb.MostDrawn)
	default:
		picture := func(shape string) string {
			return "/foodweb.svg?" + url.Values{"roster": {asked}, "lang": {tag}, "shape": {shape}}.Encode()
		}
		view.Alt, view.Wide, view.Tall = drawn.Alt, picture("wide"), picture("tall")
		if len(web.Left) > 0 {
			view.Left = fmt.Sprintf(words.Left, strings.Join(web.Left, ", "))
		}
	}
	return view, http.StatusOK
}

// web is a roster's web, worked out once.
func (s *Screen) web(in plan.InLanguage) (questions.Web, error) {
	sheet, offered := s.sheets[in.Roster]
	if !offered {
		return questions.Web{}, errors.New("the roster is none of those at /foodweb")
	}
	return s.planner.Web(plan.InLanguage{Roster: sheet, Language: in.Language})
}

// nodesOf lists each node of a web by its name, with what it eats and what eats it.
func nodesOf(web questions.Web) []webNode {
	nodes := map[string]webNode{}
	for _, e := range web.Edges {
		eater, food, likely := web.Name(e.Eater), web.Name(e.Food), e.By == foodweb.Rule || e.By == foodweb.Group
		to, from := nodes[eater], nodes[food]
		to.Eats, from.Eaten = append(to.Eats, webLink{food, likely}), append(from.Eaten, webLink{eater, likely})
		to.Name, from.Name = eater, food
		nodes[eater], nodes[food] = to, from
	}
	var out []webNode
	fold := func(a, b string) int { return strings.Compare(strings.ToLower(a), strings.ToLower(b)) }
	for _, name := range slices.SortedFunc(maps.Keys(nodes), fold) {
		out = append(out, nodes[name])
	}
	return out
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
	web, err := s.web(wish.in)
	if !known || err != nil {
		return plate.Plate{}, errors.New("the shape is wide or tall, and the roster one of those at /foodweb")
	}
	return s.drawn.Get(wish, func() (plate.Plate, error) {
		drawn, ok := web.Draw(size[0], size[1])
		if !ok {
			return drawn, fmt.Errorf("%s has no two animals of which one eats the other, or more than %d", wish.in.Roster, foodweb.MostDrawn)
		}
		return drawn, nil
	})
}
