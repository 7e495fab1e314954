package guide

import (
	"fmt"
	"strings"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// Words are the guide's own, in its language. Those with a % take values.
type Words struct {
	Title, Schematic                                                   string
	Contents, Measures, Told, Lookalikes, Cautions                     string
	Glossary, Tells, Looked, Sources, Legend                           string
	Skulls, Prints, Keys, KeyHow                                       string
	Worksheet, WorksheetHow, Answers, Name                             string
	Only, Leaves, LeavesMany, Alike, NoTrait, Percent                  string
	Compared, Nothing, Not, Or, Back, Life, Reduced, NoScale, OneScale string
	Usually                                                            string
	Web, WebHow                                                        string

	By, KeyBy, Views, Parts map[string]string
}

var wordsIn = map[catalogue.Language]Words{
	catalogue.English: {
		Title: "Study guide: %s", Schematic: "Drawings are schematic: they show what the traits say, and no single animal.",
		Contents: "Contents", Measures: "Measures", Told: "What tells it from all others here", Lookalikes: "Look-alikes", Cautions: "Take care",
		Glossary: "Glossary", Tells: "What a structure tells", Looked: "What the traits look at", Sources: "Sources",
		Legend: "[3] the number of a source in the list at the end; † recalled, with no source found yet; ‡ common practice of the trade.",
		Skulls: "All skulls on one scale", Prints: "All prints on one scale",
		Keys: "Keys", KeyHow: "Begin at 1, choose the line that fits, and go on where it points. An animal that a pair of lines does not decide is found down both.",
		Worksheet: "Worksheet", WorksheetHow: "Name each animal and fill in what is asked. Drawings of one animal are not on one scale.", Answers: "Key to the worksheet", Name: "Animal",
		Only: "then no other", Leaves: "then only %s", LeavesMany: "then %d others", Alike: "Not told by this from: %s.", NoTrait: "No trait in the catalogue tells it from another one here.",
		Percent: "%d %% alike", Compared: "%s, %s", Nothing: "Nothing in the catalogue tells these two apart by this.", Not: "not separated", Or: " or ", Back: "Back to the contents",
		Life: "Life size, printed at 100 %.", Reduced: "Drawn at 1:%g: the check line of 10 cm stands for %g cm.", NoScale: "not to scale", OneScale: "both on one scale", Usually: "usually ",
		Web: "Who eats whom", WebHow: "An arrow leads from what is eaten to whoever eats it. A solid one is named by a source, or is a fifth of a published diet or more; a broken one is of a named group, or follows from a rule. No arrow does not say that one never eats the other.",
		By:    map[string]string{"skull": "By its skull", "track": "By its track", "scat": "By its scat", "sign": "By its signs"},
		KeyBy: map[string]string{"skull": "Key to the skulls", "track": "Key to the tracks", "scat": "Key to the scat", "sign": "Key to the signs"},
		Views: map[string]string{"skull": "Skull", "front print": "Front print", "hind print": "Hind print", "print": "Print", "trail": "Trail", "scat": "Scat", "track": "Print", "sign": "Sign"},
		Parts: map[string]string{"any": "", "droppings": "Droppings", "dead animal": "A dead one", "live animal": "A live one", "feathers and bones": "Feathers and bones", "den or nest": "Its den or nest", "its kill": "Its kill"},
	},
	catalogue.Spanish: {
		Title: "Guía de estudio: %s", Schematic: "Los dibujos son esquemáticos: muestran lo que dicen los rasgos y no un animal en particular.",
		Contents: "Contenido", Measures: "Medidas", Told: "Lo que lo distingue de todos los demás", Lookalikes: "Se le parecen", Cautions: "Ten cuidado",
		Glossary: "Glosario", Tells: "Lo que revela una estructura", Looked: "En qué se fijan los rasgos", Sources: "Fuentes",
		Legend: "[3] es el número de una fuente de la lista del final; † es de memoria, aún sin fuente; ‡ es práctica común del oficio.",
		Skulls: "Todos los cráneos a una escala", Prints: "Todas las huellas a una escala",
		Keys: "Claves", KeyHow: "Empieza en 1, elige la línea que corresponde y sigue adonde indica. Un animal que un par de líneas no decide se encuentra por ambas.",
		Worksheet: "Hoja de trabajo", WorksheetHow: "Nombra cada animal y completa lo que se pide. Los dibujos de un animal no están a una misma escala.", Answers: "Clave de la hoja de trabajo", Name: "Animal",
		Only: "ya ningún otro", Leaves: "quedan solo %s", LeavesMany: "quedan otros %d", Alike: "Con esto no se distingue de: %s.", NoTrait: "Ningún rasgo del catálogo lo distingue de otro de la lista.",
		Percent: "parecido: %d %%", Compared: "%s, %s", Nothing: "Nada en el catálogo distingue con esto a los dos.", Not: "sin separar", Or: " o ", Back: "Volver al contenido",
		Life: "Tamaño natural, impreso al 100 %.", Reduced: "Dibujado a 1:%g: la línea de 10 cm vale por %g cm.", NoScale: "sin escala", OneScale: "ambos a una escala", Usually: "por lo general ",
		Web: "Quién se come a quién", WebHow: "Una flecha va de lo comido a quien lo come. La continua la nombra una fuente, o es al menos la quinta parte de una dieta publicada; la discontinua es de un grupo nombrado o se sigue de una regla. Que no haya flecha no dice que uno nunca se coma al otro.",
		By:    map[string]string{"skull": "Por su cráneo", "track": "Por su huella", "scat": "Por su excreta", "sign": "Por sus señales"},
		KeyBy: map[string]string{"skull": "Clave de los cráneos", "track": "Clave de las huellas", "scat": "Clave de las excretas", "sign": "Clave de las señales"},
		Views: map[string]string{"skull": "Cráneo", "front print": "Huella delantera", "hind print": "Huella trasera", "print": "Huella", "trail": "Rastro", "scat": "Excreta", "track": "Huella", "sign": "Señal"},
		Parts: map[string]string{"any": "", "droppings": "Excretas", "dead animal": "Uno muerto", "live animal": "Uno vivo", "feathers and bones": "Plumas y huesos", "den or nest": "Su guarida o nido", "its kill": "Su presa"},
	},
}

// view names a drawing; a bird has but one kind of print.
func (w *writer) view(view string, s catalogue.Species) string {
	if name := questions.SignName(view, w.Catalogue.Language); name != "" {
		return Sentence(name)
	}
	if s.Values["class"].Text == "bird" {
		view = strings.TrimPrefix(view, "front ")
	}
	return w.Words.Views[view]
}

// mostNamed is how many animals a mark names that it leaves; more are counted.
const mostNamed = 5

// Leaving says whom a mark leaves to be told by the next.
func (w Words) Leaving(m Mark) string {
	switch n := len(m.Left); {
	case n == 0:
		return w.Only
	case n > mostNamed:
		return fmt.Sprintf(w.LeavesMany, n)
	}
	return fmt.Sprintf(w.Leaves, Names(m.Left))
}

// Names lists species as a sentence has them.
func Names(species []catalogue.Species) string {
	var out []string
	for _, s := range species {
		out = append(out, s.Vernacular)
	}
	return strings.Join(out, ", ")
}

// measure is a number as a table has it: 5.7–8.3 cm.
func (w Words) measure(v catalogue.Value, t catalogue.Trait) string {
	text := strings.TrimPrefix(strings.ReplaceAll(v.String(), "..", "–"), "?")
	if usual, bounds, two := strings.Cut(text, ";?"); two {
		text = w.Usually + usual + " (" + bounds + ")"
	}
	if t.Kind == catalogue.Range && t.Unit != "" {
		text += " " + t.Unit
	}
	return text
}
