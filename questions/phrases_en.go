package questions

import (
	"slices"
	"strings"

	"fieldsign/questions/catalogue"
)

var english = phrasebook{
	the: func(s catalogue.Species) string {
		if first, _, _ := strings.Cut(s.Vernacular, " "); strings.HasSuffix(first, "'s") {
			return s.Vernacular // "Ord's kangaroo rat"
		}
		return "the " + s.Vernacular
	},
	part: func(s catalogue.Species, t catalogue.Trait) string {
		if isBird(s) {
			return strings.TrimPrefix(t.Part, "front ")
		}
		return t.Part
	},
	gear: map[string]string{"": "antlers or horns", "antlers": "antlers", "horns": "horns"},
	its:  "%[2]s's %[1]s", // part, animal
	own: func(part string) string {
		if part == "" {
			return "it"
		}
		return "its " + part
	},
	all: func(part string) string {
		if part == "" {
			return ""
		}
		return "the " + part
	},
	which: func(part, adjective, phrase string) string {
		animal := strings.TrimSpace(adjective + " animal")
		if part != "" {
			animal += "'s " + part
		}
		return "Which " + animal + " " + phrase + "?"
	},
	series: func(clauses []string) string {
		if len(clauses) == 2 && (strings.Contains(clauses[0], ", ") || strings.Contains(clauses[0], " and ")) {
			return clauses[0] + ", and " + clauses[1]
		}
		return listed(clauses, " and ", ", and ")
	},
	verbs:  []string{"is often found", "often contains"},
	again:  []string{"is", "no"},
	and:    ", and ",
	unname: func(prompt, the string) string { return strings.ReplaceAll(prompt, the, "this animal") },
	finish: func(text string) string { return text },

	only:     "Of these, only %s. ",       // clause
	onlyFits: "Only %s fits every clue. ", // animal
	noneDoes: "None of the others does.",
	alike: func(animals []string, part, phrase string) string {
		if part == "" {
			return animals[0] + " " + phrase + tooEnglish(phrase, len(animals) > 2) + " " + listed(animals[1:], " and ", " and ")
		}
		return "for " + listed(animals, " and ", " and ") + ", the " + part + " " + phrase
	},
	whichIsThis: "Which animal is this? %s.", // description
	itIs:        "It is %s: %s. ",            // animal, description

	separates:       "Which of these is true of %s but not of %s?", // animals
	separatesReason: "%s; %s. The others are true of both animals.",

	trueOf:        "Which of these is true of %s?", // animal
	notTrueOf:     "Which of these is not true of %s?",
	notTrueOfRest: "The others are true of it.",
	fitsPlate:     "Which of these fits this picture?",

	members: map[string]string{ // animal
		"scat_placement": "Where is %s's scat often found?",
		"scat_contents":  "Which of these does %s's scat often contain?",
		"lives_on":       "What does %s live on, for the most part?",
		"competes_with":  "Which of these competes most with %s for food, where the two meet?",
		"sign":           "Which of these signs might %s leave behind?",
		"den_place":      "Where might %s den or raise its young?",
	},

	compoundReason: "%s, and %s. ", // clauses

	compared: "%s; %s.", // clause, what comes next
	others: func(part, phrase string) string {
		if part == "" {
			return "each of the others " + phrase
		}
		return "for each of the others, " + part + " " + phrase
	},

	oddLevel: map[string]string{
		"plants alone": "All but one of these are herbivores. Which one is not?", "plants and animals": "All but one of these are omnivores. Which one is not?",
		"animals alone": "All but one of these live on other animals, not on plants. Which one does not?",
	},
	oddOne: "Judging by the %s, which animal is the odd one out?", // trait

	formula:      "What is the dental formula of %s?", // animal
	teeth:        "How many teeth does %s have in all?",
	byComparison: "%s; by comparison, %s.", // clauses

	lacks:     "Which of these teeth does %s lack?", // animal
	formulaIs: " Its dental formula is %s.",

	name:       "Name this animal. %s.", // description
	nameReason: "Of all the animals in play, only %s fits every clue.",

	atLeast: "at least", atMost: "at most", under: "under", notAsAbove: "Not as above",

	views: map[string]viewPhrases{ // -; animal; phrase
		"front print": {"Whose front print is this?", "Which of these is the front print of %s?", "Which of these front prints %s?"},
		"hind print":  {"Whose hind print is this?", "Which of these is the hind print of %s?", "Which of these hind prints %s?"},
		"print":       {"Whose print is this?", "Which of these is the print of %s?", "Which of these prints %s?"},
		"skull":       {"Whose skull is this?", "Which of these is the skull of %s?", "Which of these skulls %s?"},
		"scat":        {"Whose scat is this?", "Which of these is the scat of %s?", "Which of these scats %s?"},
		"track":       {whose: "Whose track is this?"},
		"skull above": {whose: "Whose skull is this, seen from above?"},
		"sign":        {whose: "Whose sign is this?"},
		"pelt":        {whose: "Whose pelt is this?"},
		"head gear":   {whose: "Whose antlers or horns are these?"},
	},
	plate:   "Plate %c",
	plateIs: "Plate %c is %s's: %s.", // letter, animal, description
	plateOf: "plate %c is %s's",      // letter, animal
	each:    func(part string) string { return "each " + part },
	byScale: " Use the scale.",

	pair:      "Could the same kind of animal have left both of these prints?",
	pairYes:   "Yes, it could",
	pairSame:  "Both are %s's: %s.",                        // animal, description
	pairApart: "Print 1 is %s's: %s. Print 2 is %s's: %s.", // twice animal, clause
	differ: map[string]string{
		"front_toes": "No: one shows more toes", "toes_forward": "No: one has more toes in front", "leading_toe": "No: only one has a toe ahead of the others", "hind_toes": "No: one shows more toes",
		"front_webbing": "No: the webs between the toes differ", "hind_webbing": "No: the webs between the toes differ",
		"claws_show": "No: only one shows claws", "hind_toe": "No: the hind toes differ", "thumb": "No: only one shows a thumb", "heel_pad": "No: the heel pads differ in shape",
		"dewclaws": "No: only one shows dewclaws", "furred_sole": "No: only one is blurred by fur", "foot_type": "No: the types of foot differ",
	},

	whichFoot:     "This is a print of %s. Does the number of its toes alone tell which foot left it?", // animal
	feetAlike:     "No: both feet show the same number of toes",
	feetByNumber:  " So the number does not tell the foot.",
	foot:          map[string]string{"front print": "Yes: a front foot", "hind print": "Yes: a hind foot"},
	separatesFeet: "%s; %s.", // clauses

	madeUp: " (The numbers are made up for the sum.)",
	sums: map[string]sumPhrases{
		"petersen":   {"Biologists catch {1} {herd} in one area, mark them and let them go. Later they catch {2} there, and {3} of these are marked. By the Lincoln–Petersen method, about how many live there?", "Marked × caught ÷ marked among the caught: {1} × {2} ÷ {3} = {n}."},
		"chapman":    {"Biologists catch {1} {herd} in one area, mark them and let them go. Later they catch {2} there, and {3} of these are marked. By Chapman's formula, (first catch + 1) × (second catch + 1) ÷ (marked ones in the second catch + 1) − 1, about how many live there?", "({1} + 1) × ({2} + 1) ÷ ({3} + 1) − 1 = {n}."},
		"strip_mi":   {"A biologist follows a line {3} miles long and sees {1} {herd}, all within {half} yards of it; none that near was missed. How many is that per square mile? (A mile has 1760 yards.)", "The strip is 2 × {half} = {2} yards wide and {3} miles long; {1} ÷ ({2} ÷ 1760 × {3}) = {n}."},
		"pellets_ac": {"Biologists clear plots ({3} acres in all) of the pellets of {herd}. They come back {2} days later and find {1} groups of pellets. If each deer drops 13 groups a day, how many deer is that per square mile (640 acres)?", "One deer to each square mile leaves 13 × {2} × {3} ÷ 640 groups there; {1} ÷ (13 × {2} × {3} ÷ 640) = {n}."},
		"fawns":      {"A survey of {herd} counts {1} bucks, {2} does and {3} fawns. How many fawns is that per 100 does?", "100 × {3} fawns ÷ {2} does = {n}."},
		"bucks":      {"A survey of {herd} counts {1} bucks, {2} does and {3} fawns. How many bucks is that per 100 does?", "100 × {1} bucks ÷ {2} does = {n}."},
		"density_ac": {"A survey finds {1} {herd} on {2} acres. What is the population density per square mile (640 acres)?", "{2} acres are {2} ÷ 640 square miles; {1} ÷ ({2} ÷ 640) = {n}."},
		"rise":       {"A yearly count found {1} {herd} last year and {2} this year. By how many percent did the count rise?", "The rise is measured by the first count: 100 × ({2} − {1}) ÷ {1} = {n}."},
		"fall":       {"A yearly count found {1} {herd} last year and {2} this year. By how many percent did the count fall?", "The fall is measured by the first count: 100 × ({1} − {2}) ÷ {1} = {n}."},
		"quota":      {"A survey finds about {1} {herd} in one area. This season, {2} percent of them may be taken. How many is that?", "{1} × {2} ÷ 100 = {n}."},
	},

	web: webPhrases{
		labels: map[string]string{"preys_on": "prey", "lives_on": "main food", "competes_with": "competitor", "feeds_as": "level at which it feeds",
			"food_chain": "food chains", "level_in_chain": "levels of a food chain", "if_gone": "a food chain without one link", "if_more": "a food chain with more of one link", "estimate": "estimates of how many there are", genus: "pelts and head gear"},
		kinds:    map[string]string{"green plants": "green plants", "seeds and fruit": "seeds and fruit", "invertebrates": "insects and other invertebrates", "fish": "fish", "reptiles and amphibians": "reptiles and amphibians", "mammals and birds": "mammals and birds"},
		short:    map[string]string{"invertebrates": "invertebrates"},
		preys:    [2]string{"preys on %s", "does not prey on %s"}, // what
		eats:     [2]string{"eats %s", "does not eat %s"},
		lives:    [2]string{"lives mainly on %s", "does not live mainly on %s"},
		competes: [2]string{"competes for food with %s", "does not compete for food with %s"},
		level:    "{plants alone:is a herbivore (a primary consumer)|animals alone:lives on other animals, not on plants|plants and animals:is an omnivore}",
		noLevel:  "{plants alone:is not a herbivore|animals alone:does not live on animals alone|plants and animals:is not an omnivore}",

		chain:     "Which of these can be a food chain? Each arrow points to the one that eats.",
		otherwise: "In the others, an arrow is wrong: %s.", // clauses
		plantsEat: "%s eat nothing",
		levelIn:   "In the food chain %s, what is %s?",                                                    // chain, animal
		soItIs:    "; in this chain %s is %s.",                                                            // animal, level
		pictured:  "A food web of %d animals with %d arrows, each from what is eaten to whoever eats it.", // animals, arrows
		otherFood: "The others live mostly on other food.",
		level4:    map[string]string{"producer": "a producer", "primary consumer": "a primary consumer", "secondary consumer": "a secondary consumer", "tertiary consumer": "a tertiary consumer"},

		herd:    func(s catalogue.Species) string { return plural(s.Vernacular) },
		plants:  map[string]string{"green plants": "green plants", "seeds and fruit": "seeds and fruit"},
		turns:   map[string][2]string{"more": {"more %s", "more %s"}, "fewer": {"fewer %s", "fewer %s"}},
		besides: ", ",
		changes: map[string]string{
			"if_gone":        "In one place, this is the only food chain: {chain}. The {changed} die off. What happens soon after to the {lower} and to the {upper}?",
			"if_more":        "In one place, this is the only food chain: {chain}. Many more {changed} move in. What happens soon after to the {lower} and to the {upper}?",
			"if_gone bottom": "In one place, this is the only food chain: {chain}. A drought leaves hardly any {changed}. What happens soon after to the {lower} and to the {upper}?",
			"if_more bottom": "In one place, this is the only food chain: {chain}. A good year brings far more {changed}. What happens soon after to the {lower} and to the {upper}?",
		},
		follows: map[string]string{
			"if_gone":        "With no {changed} to eat them, there are soon {more lower}. The {upper} have lost their food, so there are soon fewer of them.",
			"if_more":        "More {changed} eat more, so there are {fewer lower}. The {upper} find more food, so there are soon more of them.",
			"if_gone bottom": "The {lower} have lost their food, so there are soon fewer of them. Then the {upper} find less to eat, and there are fewer of them, too.",
			"if_more bottom": "The {lower} find more food, so there are soon more of them. Then the {upper} find more to eat, and there are more of them, too.",
			"if_gone top":    "With no {changed} to eat them, there are soon {more upper}. These eat more, so there are {fewer lower}.",
			"if_more top":    "More {changed} eat more, so there are {fewer upper}. These eat less, so there are {more lower}.",
		},
	},

	text: textPhrases{
		shown: "   (shown: %s)\n", key: "   Key: %s. %s  (%s, difficulty %d; rests on: %s)\n\n",
		drawn: "%s of %s", marked: ", pointing at the %s", besides: " beside %s of %s",
		drawings: map[string]string{
			"front print": "the front print", "hind print": "the hind print",
			"left front print": "the left front print", "left hind print": "the left hind print",
			"skull": "the skull", "skull side": "a side view of the skull", "skull above": "a top view of the skull",
			"scat": "the scat", "pelt": "the pelt", "head gear": "the head gear", "lower jaw": "the lower jaw",
		},
		rests: map[catalogue.Basis]string{
			catalogue.Memory: "memory", catalogue.Practice: "common practice", catalogue.Absence: "absence",
			catalogue.Group: "group", catalogue.Secondary: "secondary", catalogue.Published: "published",
		},
	},

	whatSign:       "What does this drawing show?",
	signReason:     "%s: %s.",             // kind of sign, clause
	specimenReason: "It is from %s (%s).", // animal, its scientific name
	label:          "What does the question mark point at?",
	termReason:     "%s: %s.", // term, meaning
	freshReason:    "In %[2]s, expect %[1]s.",
	lore: map[string]string{ // the meaning, or the name
		"term-for":              "What is the term for %s?",
		"term-means":            "What does the term “%s” mean?",
		"what-it-tells":         "An animal has %s. What does this suggest?",
		"what-it-tells of kind": "An animal leaves %s. What does this suggest?",
		"deer-age":              "The lower jaw of a white-tailed deer has %s. How old was the deer?",
		"fresh-or-old":          "Which of these usually has %s?",
		"deer-jaw":              "How old is the white-tailed deer whose lower jaw this is?",
		"deer-jaw-fine":         "How old, by the usual estimate, is the white-tailed deer whose lower jaw this is?",
		"deer-age-fine":         "The lower jaw of a white-tailed deer has %s. How old was it, by the usual estimate?",
	},
	ageEstimate: "How old beyond 2½ can only be estimated, from wear.",
	that:        "that ",
}

// tooEnglish says that what was said of one animal is so of others.
func tooEnglish(phrase string, several bool) string {
	start, verb := ", and so ", "does"
	words := strings.Fields(phrase)
	if words[0] == "is" {
		verb = "is"
	}
	if denied := words[:min(2, len(words))]; slices.Contains(denied, "not") || slices.Contains(denied, "no") {
		start = ", nor "
	}
	if several {
		verb = map[string]string{"does": "do", "is": "are"}[verb]
	}
	return start + verb
}

// irregular are the last words of names that take no s in the plural.
var irregular = map[string]string{"mouse": "mice", "goose": "geese", "wolf": "wolves", "fox": "foxes", "deer": "deer", "moose": "moose", "elk": "elk", "bison": "bison", "sheep": "sheep", "caribou": "caribou", "mink": "mink", "grouse": "grouse", "lynx": "lynx"}

// plural is the name of an animal as it is counted.
func plural(name string) string {
	start, last := "", name
	if i := strings.LastIndex(name, " "); i >= 0 {
		start, last = name[:i+1], name[i+1:]
	}
	if many, is := irregular[last]; is {
		return start + many
	}
	return name + "s"
}
