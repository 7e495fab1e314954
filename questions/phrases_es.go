package questions

import (
	"strings"

	"fieldsign/questions/catalogue"
)

// Spanish is that of Latin America, for pupils of some twelve years, who are
// tú. Parts of animals come with their articles: "el cráneo".
var spanish = phrasebook{
	language: catalogue.Spanish,

	the: func(s catalogue.Species) string { return s.Article + " " + s.Vernacular },
	part: func(s catalogue.Species, t catalogue.Trait) string {
		if isBird(s) {
			return strings.TrimSuffix(t.Wording.Part, " delantera")
		}
		return t.Wording.Part
	},
	gear: map[string]string{"": "astas o cuernos", "antlers": "astas", "horns": "cuernos"},
	its:  "%s de %s",
	own: func(part string) string {
		if part == "" {
			return "" // the verb is enough
		}
		_, noun, _ := strings.Cut(part, " ")
		return "su " + noun
	},
	all: func(part string) string { return part },
	which: func(part, adjective, phrase string) string {
		animal := strings.TrimSpace("animal " + adjective)
		if part == "" {
			return "¿Qué " + animal + " " + phrase + "?"
		}
		if quality, most := strings.CutPrefix(phrase, "es "+part[:2]+" "); most {
			return "¿Cuál de estos animales tiene " + part + " " + quality + "?" // "es el más largo"
		}
		return "¿De qué " + animal + " es " + part + " que " + phrase + "?"
	},
	series: func(clauses []string) string {
		if len(clauses) == 2 && (strings.Contains(clauses[0], ", ") || strings.Contains(clauses[0], " y ")) {
			return clauses[0] + ", y " + clauses[1]
		}
		return listed(clauses, " y ", " y ")
	},
	verbs: []string{"a menudo se encuentra", "a menudo contiene"},
	again: []string{"es", "no"},
	and:   ", y ",
	unname: func(prompt, the string) string {
		article, name, _ := strings.Cut(the, " ")
		if article == "el" {
			prompt = strings.NewReplacer("del "+name, "de este animal", "al "+name, "a este animal").Replace(prompt)
		}
		return strings.ReplaceAll(prompt, the, "este animal")
	},
	finish: strings.NewReplacer(" de el ", " del ", " a el ", " al ").Replace,

	only:     "De estos, solo %s. ",
	noneDoes: "Ninguno de los demás lo hace.",
	alike: func(animals []string, part, phrase string) string {
		if part == "" {
			too := ", y también "
			if strings.HasPrefix(phrase, "no ") {
				too = ", y tampoco "
			}
			return animals[0] + " " + phrase + too + listed(animals[1:], " y ", " y ")
		}
		return "en " + listed(animals, " y ", " y ") + ", " + part + " " + phrase
	},
	onlyFits:    "Solo %s cumple con todas las pistas. ",
	whichIsThis: "¿Qué animal es este? %s.",
	itIs:        "Es %s: %s. ",

	separates:       "¿Cuál de estas afirmaciones es cierta para %s, pero no para %s?",
	separatesReason: "%s; %s. Las otras son ciertas para ambos animales.",

	trueOf:        "¿Cuál de estas afirmaciones es cierta para %s?",
	notTrueOf:     "¿Cuál de estas afirmaciones no es cierta para %s?",
	notTrueOfRest: "Las otras sí son ciertas.",
	fitsPlate:     "¿Cuál de estas afirmaciones corresponde a esta lámina?",

	members: map[string]string{
		"scat_placement": "¿Dónde se encuentra a menudo la excreta de %s?",
		"scat_contents":  "¿Qué contiene a menudo la excreta de %s?",
		"lives_on":       "¿De qué se alimenta sobre todo %s?",
		"competes_with":  "¿Cuál de estos animales compite más por el alimento con %s, donde viven los dos?",
		"sign":           "¿Cuál de estas señales puede dejar %s?",
		"den_place":      "¿Dónde puede tener su guarida o criar %s?",
	},

	compoundReason: "%s, y %s. ",

	compared: "%s; %s.",
	others: func(part, phrase string) string {
		if part == "" {
			return "cada uno de los demás " + phrase
		}
		return "en cada uno de los demás, " + part + " " + phrase
	},

	oddLevel: map[string]string{
		"plants alone": "Todos menos uno son herbívoros. ¿Cuál no lo es?", "plants and animals": "Todos menos uno son omnívoros. ¿Cuál no lo es?",
		"animals alone": "Todos menos uno viven de otros animales y no de plantas. ¿Cuál no?",
	},
	oddOne: "Según %s, ¿qué animal es distinto de los demás?",

	formula:      "¿Cuál es la fórmula dental de %s?",
	teeth:        "¿Cuántos dientes tiene en total %s?",
	byComparison: "%s; en comparación, %s.",

	lacks:     "¿Cuáles de estos dientes le faltan a %s?",
	formulaIs: " Su fórmula dental es %s.",

	name:       "Escribe el nombre de este animal. %s.",
	nameReason: "De todos los animales en juego, solo %s cumple con todas las pistas.",

	atLeast: "al menos", atMost: "como mucho", under: "menos de", notAsAbove: "No como en la línea anterior",

	views: map[string]viewPhrases{
		"front print": {"¿De qué animal es esta huella delantera?", "¿Cuál de estas huellas delanteras es la de %s?", "¿Cuál de estas huellas delanteras %s?"},
		"hind print":  {"¿De qué animal es esta huella trasera?", "¿Cuál de estas huellas traseras es la de %s?", "¿Cuál de estas huellas traseras %s?"},
		"print":       {"¿De qué animal es esta huella?", "¿Cuál de estas huellas es la de %s?", "¿Cuál de estas huellas %s?"},
		"skull":       {"¿De qué animal es este cráneo?", "¿Cuál de estos cráneos es el de %s?", "¿Cuál de estos cráneos %s?"},
		"scat":        {"¿De qué animal es esta excreta?", "¿Cuál de estas excretas es la de %s?", "¿Cuál de estas excretas %s?"},
		"track":       {whose: "¿De qué animal es esta huella?"},
		"sign":        {whose: "¿De qué animal es esta señal?"},
		"pelt":        {whose: "¿De qué animal es esta piel?"},
		"head gear":   {whose: "¿De qué animal son estas astas o cuernos?"},
		"skull above": {whose: "¿De qué animal es este cráneo, visto desde arriba?"},
	},
	plate:   "Lámina %c",
	plateIs: "La lámina %c es de %s: %s.",
	plateOf: "la lámina %c es de %s",
	each: func(part string) string {
		_, noun, _ := strings.Cut(part, " ")
		return "cada " + noun
	},
	byScale: " Fíjate en la escala.",

	pair:      "¿Pudo la misma clase de animal dejar estas dos huellas?",
	pairYes:   "Sí, pudo",
	pairSame:  "Las dos son de %s: %s.",
	pairApart: "La huella 1 es de %s: %s. La huella 2 es de %s: %s.",
	differ: map[string]string{
		"front_toes": "No: una muestra más dedos", "toes_forward": "No: una tiene más dedos hacia adelante", "leading_toe": "No: solo una tiene un dedo que sobresale por delante de los demás", "hind_toes": "No: una muestra más dedos",
		"front_webbing": "No: la membrana interdigital es distinta", "hind_webbing": "No: la membrana interdigital es distinta",
		"claws_show": "No: solo una muestra garras", "hind_toe": "No: el dedo de atrás es distinto", "thumb": "No: solo una muestra un dedo en forma de pulgar",
		"heel_pad": "No: la almohadilla del talón tiene distinta forma", "dewclaws": "No: solo una muestra pezuñas secundarias",
		"furred_sole": "No: solo una se ve borrosa por el pelo", "foot_type": "No: el tipo de pata es distinto",
	},

	whichFoot:     "Esta es una huella de %s. ¿Basta el número de dedos para saber qué pata la dejó?",
	feetAlike:     "No: las dos marcan el mismo número de dedos",
	feetByNumber:  " Así que el número no dice qué pata fue.",
	foot:          map[string]string{"front print": "Sí: una pata delantera", "hind print": "Sí: una pata trasera"},
	separatesFeet: "%s; %s.",

	madeUp: " (Los números son inventados para el problema.)",
	sums: map[string]sumPhrases{
		"petersen": {"En un estudio de {the}, unos biólogos capturan, marcan y sueltan {1} ejemplares en una zona. Después capturan {2} allí, y {3} de ellos llevan marca. Según el método de Lincoln–Petersen, ¿cuántos viven allí, más o menos?", "Marcados × capturados ÷ marcados entre los capturados: {1} × {2} ÷ {3} = {n}."},
		"chapman":  {"En un estudio de {the}, unos biólogos capturan, marcan y sueltan {1} ejemplares en una zona. Después capturan {2} allí, y {3} de ellos llevan marca. Según la fórmula de Chapman, (primera captura + 1) × (segunda captura + 1) ÷ (marcados en la segunda captura + 1) − 1, ¿cuántos viven allí, más o menos?", "({1} + 1) × ({2} + 1) ÷ ({3} + 1) − 1 = {n}."},
		"strip":    {"En un conteo de {the}, una bióloga recorre una línea de {3} km y ve {1} ejemplares, todos a {half} m o menos de ella; tan cerca no se le escapó ninguno. ¿Cuántos son por kilómetro cuadrado?", "La franja tiene 2 × {half} m = {2} m de ancho y {3} km de largo; {1} ÷ ({2} ÷ 1000 × {3}) = {n}."},
		"pellets":  {"Unos biólogos limpian parcelas ({3} m² en total) de las excretas de {the}. Vuelven a los {2} días y encuentran {1} grupos de excretas. Si cada venado deja 13 grupos al día, ¿cuántos venados son por kilómetro cuadrado?", "{1} grupos ÷ (13 al día × {2} días × {3} ÷ 1 000 000 de kilómetros cuadrados) = {n}."},
		"fawns":    {"En un recuento de {the} se cuentan {1} machos, {2} hembras y {3} crías. ¿Cuántas crías son por cada 100 hembras?", "100 × {3} crías ÷ {2} hembras = {n}."},
		"bucks":    {"En un recuento de {the} se cuentan {1} machos, {2} hembras y {3} crías. ¿Cuántos machos son por cada 100 hembras?", "100 × {1} machos ÷ {2} hembras = {n}."},
		"density":  {"En un recuento de {the} se encuentran {1} ejemplares en {2} hectáreas. ¿Cuál es la densidad de población por kilómetro cuadrado (100 hectáreas)?", "{2} hectáreas son {2} ÷ 100 kilómetros cuadrados; {1} ÷ ({2} ÷ 100) = {n}."},
		"rise":     {"El conteo anual de {the} dio {1} ejemplares el año pasado y {2} este año. ¿Cuánto por ciento aumentó?", "El aumento se mide por el primer conteo: 100 × ({2} − {1}) ÷ {1} = {n}."},
		"fall":     {"El conteo anual de {the} dio {1} ejemplares el año pasado y {2} este año. ¿Cuánto por ciento disminuyó?", "La disminución se mide por el primer conteo: 100 × ({1} − {2}) ÷ {1} = {n}."},
		"quota":    {"Según un recuento de {the}, en una zona viven unos {1} ejemplares. Esta temporada se puede cazar el {2} por ciento. ¿Cuántos son?", "{1} × {2} ÷ 100 = {n}."},
	},

	web: webPhrases{
		labels: map[string]string{"preys_on": "la presa", "lives_on": "el alimento principal", "competes_with": "el competidor", "feeds_as": "el nivel en que se alimenta",
			"food_chain": "las cadenas alimentarias", "level_in_chain": "los niveles de una cadena alimentaria", "if_gone": "una cadena alimentaria sin un eslabón", "if_more": "una cadena alimentaria con más de un eslabón", "estimate": "las estimaciones de cuántos hay", genus: "las pieles, astas y cuernos"},
		kinds:    map[string]string{"green plants": "plantas verdes", "seeds and fruit": "semillas y frutos", "invertebrates": "insectos y otros invertebrados", "fish": "peces", "reptiles and amphibians": "reptiles y anfibios", "mammals and birds": "mamíferos y aves"},
		short:    map[string]string{"invertebrates": "invertebrados"},
		preys:    [2]string{"caza a %s", "no caza a %s"},
		eats:     [2]string{"come %s", "no come %s"},
		lives:    [2]string{"se alimenta sobre todo de %s", "no se alimenta sobre todo de %s"},
		competes: [2]string{"compite por el alimento con %s", "no compite por el alimento con %s"},
		level:    "{plants alone:es herbívoro (consumidor primario)|animals alone:vive de otros animales y no de plantas|plants and animals:es omnívoro}",
		noLevel:  "{plants alone:no es herbívoro|animals alone:no se alimenta solo de animales|plants and animals:no es omnívoro}",

		chain:     "¿Cuál de estas puede ser una cadena alimentaria? Cada flecha apunta al que come.",
		otherwise: "En las otras hay una flecha equivocada: %s.",
		plantsEat: "%s no comen nada",
		levelIn:   "En la cadena alimentaria %s, ¿qué es %s?",
		soItIs:    "; en esta cadena %s es %s.",
		pictured:  "Una red alimentaria de %d animales con %d flechas; cada una va de lo comido a quien lo come.",
		otherFood: "Los demás viven sobre todo de otro alimento.",
		level4:    map[string]string{"producer": "un productor", "primary consumer": "un consumidor primario", "secondary consumer": "un consumidor secundario", "tertiary consumer": "un consumidor terciario"},

		herd:    func(s catalogue.Species) string { return s.Article + " " + s.Vernacular },
		plants:  map[string]string{"green plants": "las plantas verdes", "seeds and fruit": "las semillas y los frutos"},
		turns:   map[string][2]string{"more": {"aumenta %s", "aumentan %s"}, "fewer": {"disminuye %s", "disminuyen %s"}},
		besides: " y ",
		changes: map[string]string{
			"if_gone":        "En un lugar hay solo esta cadena alimentaria: {chain}. Una enfermedad acaba con {changed}. ¿Qué pasa poco después con {lower} y con {upper}?",
			"if_more":        "En un lugar hay solo esta cadena alimentaria: {chain}. De pronto aumenta mucho {changed}. ¿Qué pasa poco después con {lower} y con {upper}?",
			"if_gone bottom": "En un lugar hay solo esta cadena alimentaria: {chain}. Una sequía acaba con casi todas {changed}. ¿Qué pasa poco después con {lower} y con {upper}?",
			"if_more bottom": "En un lugar hay solo esta cadena alimentaria: {chain}. Tras buenas lluvias abundan {changed}. ¿Qué pasa poco después con {lower} y con {upper}?",
		},
		follows: map[string]string{
			"if_gone":        "Falta quien comía ({bare}), así que pronto {more lower}. Falta también alimento, así que {fewer upper}.",
			"if_more":        "Hay más animales que comen ({bare}), así que {fewer lower}. Con más alimento, {more upper}.",
			"if_gone bottom": "Con menos alimento, {fewer lower}; después {fewer upper} también.",
			"if_more bottom": "Con más alimento, {more lower}; después {more upper} también.",
			"if_gone top":    "Falta quien comía ({bare}), así que pronto {more upper}. Se come más, así que {fewer lower}.",
			"if_more top":    "Hay más animales que comen ({bare}), así que {fewer upper}. Se come menos, así que {more lower}.",
		},
	},

	text: textPhrases{
		shown: "   (se muestra: %s)\n", key: "   Clave: %s. %s  (%s, dificultad %d; se basa en: %s)\n\n",
		drawn: "%s de %s", marked: ", que señala: %s", besides: " junto a %s de %s",
		drawings: map[string]string{
			"front print": "la huella delantera", "hind print": "la huella trasera",
			"left front print": "la huella delantera izquierda", "left hind print": "la huella trasera izquierda",
			"skull": "el cráneo", "skull side": "el cráneo de lado", "skull above": "el cráneo desde arriba",
			"scat": "la excreta", "pelt": "la piel", "head gear": "las astas o cuernos", "lower jaw": "la mandíbula",
		},
		rests: map[catalogue.Basis]string{
			catalogue.Memory: "la memoria", catalogue.Practice: "la práctica común", catalogue.Absence: "lo que una fuente calla",
			catalogue.Group: "lo dicho del grupo", catalogue.Secondary: "una fuente secundaria", catalogue.Published: "una fuente publicada",
		},
	},

	whatSign:       "¿Qué muestra este dibujo?",
	signReason:     "%s: %s.",
	specimenReason: "Es de %s (%s).",
	label:          "¿Qué parte señala el signo de interrogación?",
	termReason:     "%s: %s.",
	freshReason:    "En %[2]s cabe esperar %[1]s.",
	lore: map[string]string{
		"term-for":              "¿Qué término se usa para %s?",
		"term-means":            "¿Qué significa el término “%s”?",
		"what-it-tells of kind": "Un animal deja %s. ¿Qué indica esto?",
		"what-it-tells":         "Un animal tiene %s. ¿Qué indica esto?",
		"deer-age":              "En la mandíbula de un venado cola blanca %s. ¿Qué edad tenía?",
		"fresh-or-old":          "¿Qué suele tener %s?",
		"deer-jaw":              "¿Qué edad tiene el venado cola blanca al que pertenece esta mandíbula?",
		"deer-jaw-fine":         "¿Qué edad tiene, según el cálculo habitual, el venado cola blanca al que pertenece esta mandíbula?",
		"deer-age-fine":         "En la mandíbula de un venado cola blanca %s. ¿Qué edad tenía, según el cálculo habitual?",
	},
	ageEstimate: "Más allá de los dos años y medio, la edad solo puede calcularse por el desgaste, de forma aproximada.",
	that:        "que ",
}
