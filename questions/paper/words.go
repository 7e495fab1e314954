package paper

import (
	"fmt"

	"fieldsign/questions/catalogue"
)

// voice puts a paper's own words in the language of its questions.
type voice catalogue.Language

func (q Quiz) voice() voice { return voice(q.Set[0].Language) }

// say is a text with its values put in; a text without any stays as it is.
func (v voice) say(text string, values ...any) string {
	if catalogue.Language(v) == catalogue.Spanish {
		if words, known := inSpanish[text]; known {
			text = words
		}
	}
	if len(values) == 0 {
		return text
	}
	return fmt.Sprintf(text, values...)
}

// inSpanish has every text that say is asked for.
var inSpanish = map[string]string{
	"set %s":        "conjunto %s",
	"%s, paper %s":  "%s, hoja %s",
	"page %d of %d": "página %d de %d",
	"Team":          "Equipo",
	"Date":          "Fecha",
	"Animal":        "Animal",
	"Tick one box for each question, or write the name where a line asks for it. The drawings are schematic.": "Marca una casilla en cada pregunta, o escribe el nombre donde hay una línea. Los dibujos son esquemáticos.",

	"Answer key: %s": "Clave de respuestas: %s",
	"Set %s. Keep it apart from the sheets and cards.":          "Conjunto %s. Guárdela lejos de las hojas y las tarjetas.",
	"Seed %d: with it anyone can have these questions printed.": "Semilla %d: con ella cualquiera puede imprimir estas preguntas.",
	"key to set %s":                 "clave del conjunto %s",
	"Letters":                       "Letras",
	"Letters of paper %s":           "Letras de la hoja %s",
	"What lies at the stations":     "Qué hay en las estaciones",
	"Reasons, by number and letter": "Razones, por número y letra",
	"%s; also %s":                   "%s; también %s",

	"Station %d":                            "Estación %d",
	"station %d of %d":                      "estación %d de %d",
	"question %d":                           "pregunta %d",
	"questions %d–%d":                       "preguntas %d–%d",
	"the drawing on the card: %s":           "el dibujo de la tarjeta: %s",
	"your replica: %s":                      "su réplica: %s",
	"the drawing on the card (question %d)": "el dibujo de la tarjeta (pregunta %d)",
	"the drawings on the card":              "los dibujos de la tarjeta",
	"replica: %s":                           "réplica: %s",
	"%s, %s (question %d)":                  "%s, %s (pregunta %d)",
	"none needed":                           "no hace falta",
	"for question %d: ":                     "para la pregunta %d: ",
	"your replica here":                     "aquí su réplica",
	"Answer on your own sheet: the number and the letter, or the name.": "Responde en tu propia hoja: el número y la letra, o el nombre.",
	safety: "Aquí solo hay réplicas, moldes y dibujos; lávate las manos después de tocarlos. No toques excretas, cráneos " +
		"ni animales muertos de verdad: las normas de la autoridad local dicen quién puede guardarlos.",
	"skull": "cráneo", "track": "huella", "scat": "excreta", "sign": "señal",

	"Score sheet: %s": "Hoja de puntos: %s",
	"A column for each station; below its number, how many questions it has. One point for each right answer.": "Una columna para cada estación; debajo de su número, cuántas preguntas tiene. Un punto por cada respuesta correcta.",
	"score sheet, page %d of %d": "hoja de puntos, página %d de %d",
	"of %d":                      "de %d",
	"carried":                    "viene de",
	"to carry":                   "pasa a",
	"Total":                      "Total",

	"team sheet %d of %d":  "hoja de equipo %d de %d",
	"Team %d: %s":          "Equipo %d: %s",
	"Start at station %d.": "Empieza en la estación %d.",
	how: "A cada señal, deja de escribir y ve a la estación de la línea siguiente. Escribe la letra de tu respuesta junto al número de su pregunta. " +
		"Hasta la señal puedes cambiar una respuesta; después queda fija. La ronda tiene %d turnos de %d s, con %d s para caminar.",
	"Rotation": "Turno",
	"Station":  "Estación",
	"Answers":  "Respuestas",

	"; bar %s":              "; barra de %s",
	"not to scale":          "sin escala",
	"life size":             "tamaño natural",
	"drawn at 1:%g":         "a escala 1:%g",
	"drawn at %g:1":         "a escala %g:1",
	"10 cm: print at 100 %": "10 cm: imprima al 100 %",
}
