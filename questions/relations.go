package questions

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"fieldsign/questions/catalogue"
)

// What traits, values and terms have to do with each other stands here. Whoever adds one
// asks: what else does it say?

// relation is what a trait says of others. Each column but the last names what stands for
// all that are so related: one of them, a whole, or a term.
type relation struct {
	turn  string   // says nearly the same: they take turns as one, and are no two clues (root)
	gist  string   // whoever knows the one knows the other (gistOf)
	theme string   // says it too: of two such statements neither can be the key (theme)
	whole string   // of which it is a part that gives the other parts away (whole)
	hint  string   // whoever hears of one knows the others, or nearly (wider)
	finer string   // a trait that says it and more: it needs not be said, nor is one odd by it (describe, failed, saidFiner)
	term  string   // of the trade, for what is left: whoever has read one needs no question on the other (fresh)
	plain []string // values of its own that are no way to know an animal (unremarkable)
}

// Wholes.
const (
	formula   = "dental_formula"
	teeth     = "numbers of teeth"
	toesOfOne = "toes of a bird" // turned back, and those before them
)

var related = map[string]relation{
	"dental_formula":       {whole: formula, hint: teeth, theme: teeth},
	"total_teeth":          {gist: formula, whole: formula, hint: teeth, theme: teeth},
	"upper_incisors":       {whole: formula, hint: teeth, theme: teeth, plain: []string{"1", "3"}}, // of any rodent, of nearly any hunter
	"lower_incisors":       {whole: formula, hint: teeth, theme: teeth, plain: []string{"1", "3"}},
	"upper_canines":        {turn: "large_canines", whole: formula, hint: teeth, theme: teeth, plain: []string{"1"}}, // of any hunter
	"lower_canines":        {turn: "large_canines", whole: formula, hint: teeth, theme: teeth, plain: []string{"1"}},
	"upper_premolars":      {whole: formula, hint: teeth, theme: teeth},
	"lower_premolars":      {whole: formula, hint: teeth, theme: teeth},
	"upper_molars":         {whole: formula, hint: teeth, theme: teeth},
	"lower_molars":         {whole: formula, hint: teeth, theme: teeth},
	"peg_incisors":         {hint: teeth, theme: teeth},
	"premolar_peg":         {theme: teeth},
	"tusks":                {theme: "large_canines"},
	"carnassials":          {theme: "cheek_teeth"}, // what has them has shearing teeth
	"long_last_molar":      {theme: "last_upper_molar"},
	"incisor_colour":       {plain: []string{"white"}},
	"tooth_tips":           {plain: []string{"white"}},
	"incisor_breadth":      {plain: []string{"narrow"}},
	"incisor_grooves":      {plain: []string{"0"}},
	"infraorbital_opening": {plain: []string{"small"}},
	"ear_tube":             {plain: []string{"none", "short", "long"}}, // taught at a university
	"temporal_ridges":      {turn: "sagittal_crest"},
	"gear_bearers":         {gist: "head_gear", theme: "head_gear"},
	"gear_renewal":         {gist: "head_gear", theme: "head_gear"},
	"gear_shape":           {gist: "head_gear", theme: "head_gear"}, // what has a palm sheds its antlers

	"front_toes":       {plain: []string{"0", "1", "2"}}, // of any hoof
	"hind_toes":        {turn: "front_toes", plain: []string{"0", "1", "2"}},
	"thumb":            {theme: "hind_toes"},
	"outer_toe_free":   {gist: "hind_webbing", theme: "hind_webbing"},
	"toes_forward":     {hint: toesOfOne},
	"hind_toe":         {hint: toesOfOne},
	"long_front_claws": {turn: "claws_show"},
	"dewclaw_set":      {theme: "dewclaws"},
	"pad_bar":          {turn: "heel_pad", gist: "heel_pad", finer: "heel_pad"},
	"pad_lobes_back":   {turn: "heel_pad", gist: "heel_pad", finer: "heel_pad"},
	"group_pattern":    {turn: "gait", gist: "gait"},

	"scat_form":                  {whole: "scat_form", finer: "pellet_shape"},
	"scat_ends":                  {turn: "scat_form", gist: "scat_form", whole: "scat_form", plain: []string{"rounded"}}, // of any pellet
	"pellet_shape":               {turn: "scat_form", gist: "scat_form", whole: "scat_form"},
	"latrine_place":              {turn: "scat_placement", gist: "scat_placement_in_latrines", whole: "scat_placement"},
	"scat_placement_in_the_open": {plain: []string{"yes", "no"}},

	"cache":        {turn: "sign_meals"},
	"nut_opened":   {turn: "sign_meals"},
	"pellet_of":    {turn: "sign_meals", term: "owl pellet"},
	"lodge_of":     {turn: "sign_built"},
	"bark_where":   {turn: "sign_marks", term: "girdling"},
	"burrow_mouth": {turn: "sign_ground", gist: "den_place"},
	"burrow_width": {gist: "den_place"}, "burrow_length": {gist: "den_place"},
	"den_place_in_a_nest_in_a_tree":           {turn: "sign_built"},
	"den_place_in_a_lodge_in_the_water":       {turn: "sign_built"},
	"den_place_in_a_burrow_in_the_ground":     {turn: "sign_ground"},
	"den_place_in_the_open,_in_a_form":        {turn: "sign_ways", term: "form"},
	"den_place_under_logs_or_brush":           {plain: []string{"yes", "no"}},
	"sign_built_leaf_nests_in_trees":          {term: "drey"},
	"sign_built_push-ups_on_the_ice":          {term: "push-up"},
	"sign_ground_dust_baths":                  {term: "dust bath"},
	"sign_ground_open_burrows":                {plain: []string{"yes", "no"}},
	"sign_ground_wallows":                     {term: "wallow"},
	"sign_marks_antler_rubs_on_trees":         {term: "rub"},
	"sign_meals_coughed-up_pellets":           {term: "owl pellet"},
	"sign_meals_middens_of_cone_scales":       {term: "midden"},
	"sign_scent_mounds_of_mud_by_the_water":   {term: "scent mound"},
	"sign_scent_pawed_scrapes_under_a_branch": {term: "buck scrape"},
	"sign_ways_forms_where_it_sits_by_day":    {term: "form"},
	"sign_ways_paths_beaten_in_deep_snow":     {term: "deer yard"},

	livesOn: {turn: feedsAs},
}

// root is the sheet's column behind a trait: the members of a set count as one,
// and so do traits that say nearly the same.
func root(t catalogue.Trait) string {
	return cmp.Or(related[t.ID].turn, related[t.From].turn, t.From, t.ID)
}

func gistOf(trait string) string { return cmp.Or(related[trait].gist, trait) }

// theme is what a trait and those that say it too are about.
func theme(trait string) string { return cmp.Or(related[trait].theme, trait) }

// whole is what a trait is a part of that gives the other parts away, or nothing: what
// else a scat holds, where else it is left, its form in other words; a formula the numbers
// of teeth.
func whole(trait string) string {
	for _, set := range []string{"scat_contents", "scat_placement"} {
		if strings.HasPrefix(trait, set+"_") {
			return set
		}
	}
	return related[trait].whole
}

// toeCounts are the plainest differences of two prints, and one lesson (countsToes).
var toeCounts = []string{"front_toes", "hind_toes", "toes_forward"}

// cheekTeeth are the numbers in which relatives differ: who knows one of them knows
// who has more teeth in all (tells).
var cheekTeeth = strings.Fields("upper_premolars lower_premolars upper_molars lower_molars")

// teethShown are all that a formula adds up (tells), as a skull shows them.
var teethShown = append(strings.Fields("upper_incisors lower_incisors upper_canines lower_canines"), cheekTeeth...)

// animalFood is what a scat holds of animals; what else it holds is of plants (deniable).
var animalFood = strings.Fields("hair bone fish_scales crayfish_shell insect_parts feathers porcupine_quills")

// plain are the states between the ones that are taught: nobody looks for them.
var plain = []string{"none", "medium", "moderate", "alike", "straight", "slight", "about", "cord"}

// unremarkable facts are true, but no way to know an animal: a plain state, white,
// smooth or narrow teeth, an ear tube or an opening before the eye like most, the rounded
// ends of any pellet, droppings in the open, the toes of any hoof, a burrow that is open, a den under any log.
func unremarkable(trait string, v catalogue.Value) bool {
	v, own := v.Typical(), related[trait].plain
	switch {
	case own == nil:
		return slices.Contains(plain, v.Text)
	case v.Text == "":
		return slices.Contains(own, strconv.Itoa(int(v.Hi)))
	}
	return slices.Contains(own, v.Text)
}

// implies are claims of which the first says, or nearly says, the second: a foot with two toes
// turned back has two before them, and a junction is on a trail (twins).
var implies = map[string]string{"hind_toe=two": "toes_forward=2", "scat_placement_at_trail_junctions=yes": "scat_placement_on_trails=yes",
	"heel_pad=three-lobed":          "pad_lobes_back=yes",
	"scat_ends=pointed and dimpled": "pellet_shape=nippled", "scat_form=round pellet": "pellet_shape=disc"}

// twins reports whether one of two claims says the other: of two such options neither
// can be the key. Two values of one trait gainsay each other.
func twins(a, b catalogue.Claim) bool {
	x, y := a.Trait+"="+a.Value, b.Trait+"="+b.Value
	return implies[x] == y || implies[y] == x || a.Trait != b.Trait && theme(a.Trait) == theme(b.Trait)
}

// passing is a value that an animal lacks and could be said to show, since it shows
// another (sparing).
type passing struct {
	said, shown string // trait=value, or a trait whatever its value
	how         how
}

// typically is a trait's value as the table below has it.
func typically(trait string, v catalogue.Value) string { return trait + "=" + v.Typical().String() }

// how a value passes for another.
type how int

const (
	byEye    how = iota // nobody is asked to deny it
	asGood              // nor is an animal told by it from one that has it
	inDegree            // likewise, unless the two are in hand, as with a key
)

// passesFor are the values that pass for each other. Some pass one way: whatever is on a
// skull, two ridges that draw together pass for a V unless they make a lyre.
var passesFor = slices.Concat(
	[]passing{
		{"large_canines=yes", "cheek_teeth=insect-piercing", byEye}, // a mole's tall front tooth
		{"carnassials=yes", "order=Carnivora", byEye},               // small ones are carnassials, too
		{"front_toes=5", "hind_toes=5", byEye},                      // a small fifth shows in good mud
		{"toes_forward", "front_webbing=full", byEye},               // nobody counts toes under a web
		{"scat_ends", "scat_form=loose", byEye},                     // what is loose has any ends
		{"temporal_ridges=V", "temporal_ridges=parallel", byEye},
		{"temporal_ridges=V", "temporal_ridges=none", byEye},
		{"cheek_teeth=flat grinding", "cheek_teeth=crescent-ridged", asGood}, // which are flat and grind
		{"hind_toe=long", "hind_toe=two", asGood},                            // of two turned back one is long
		{"heel_pad=triangular", "heel_pad=chevron bar", asGood},
		{"pellet_shape=nippled", "pellet_shape=barrel", asGood}, // many a pellet of the moose
		{"scat_ends=pointed and dimpled", "pellet_shape=barrel", asGood},
		{"scat_ends=rounded", "scat_ends=pointed and dimpled", asGood},
		{"scat_placement_under_trees=yes", "scat_placement_scattered_where_it_feeds=yes", byEye}, // at trees, too
		{"scat_placement_scattered_where_it_feeds=yes", "scat_placement_under_trees=yes", byEye}, // in which it feeds
	},
	mutual(byEye, "last_upper_molar", "squarish", "broad and blunt", "long grinder"),
	mutual(byEye, "temporal_ridges", "V", "single crest"), // a fox's ridges run together low at the back
	mutual(byEye, "hoof_tips", "rounded", "squared"),
	mutual(byEye, "bulla", "round", "inflated"),
	mutual(byEye, "bulla", "small", "flattened"),
	mutual(asGood, "bulla", "moderate", "flattened"), // a mink's are flat, too, beside a weasel's
	mutual(byEye, "molar_pattern", "V folds", "flat triangles"),
	mutual(byEye, "gait", "walk", "pace"),
	mutual(byEye, "gait", "bound", "lope"),
	mutual(byEye, "group_pattern", "2x2", "twos"),
	mutual(asGood, "scat_form", "cord", "segmented cord"), // a skunk's breaks where insects are
	mutual(asGood, "scat_form", "cord", "twisted cord"),
	mutual(asGood, "front_webbing", "partial", "full"), // sources call a nutria's web, or an otter's, by either name
	mutual(asGood, "hind_webbing", "partial", "full"),
	mutual(byEye, "scat_form", "pellet", "round pellet"),
	mutual(byEye, "pellet_shape", "nippled", "barrel"),
	mutual(byEye, "scat_ends", "blunt", "rounded"),
	mutual(byEye, "cache", "nuts buried one by one", "a store in its burrow"),
	mutual(inDegree, "bulla", "moderate", "inflated"),
	mutual(asGood, "gait", "bound", "hop"),
)

// mutual are values of a trait of which each passes for any other.
func mutual(h how, trait string, values ...string) []passing {
	var out []passing
	for _, a := range values {
		for _, b := range values {
			if a != b {
				out = append(out, passing{trait + "=" + a, trait + "=" + b, h})
			}
		}
	}
	return out
}

// overlap reports whether one of two facts passes for the other: a reader who grants one
// grants both.
func overlap(a, b *fact) bool {
	return slices.ContainsFunc(passesFor, func(p passing) bool {
		return p.said == a.typical && p.shown == b.typical || p.said == b.typical && p.shown == a.typical
	})
}

// passBothWays reports whether two values pass for each other so well that nobody tells two
// animals apart by them.
func passBothWays(trait string, a, b catalogue.Value) bool {
	passes := func(said, shown catalogue.Value) bool {
		p := passing{typically(trait, said), typically(trait, shown), asGood}
		return slices.Contains(passesFor, p)
	}
	return passes(a, b) && passes(b, a)
}

// loreRelation is what an entry of lore, or a group of entries, has to do with animals and
// with another entry.
type loreRelation struct {
	of         []string        // the families of which it speaks: it is asked only with one of them in play (inPlay)
	onlyBeside bool            // it answers itself, and stands beside others alone: what is moist is fresh, who has webs swims, a dewclaw is the one toe among pads (about)
	alsoTells  string          // an entry that its meaning may hold, too: who climbs has long claws, as who digs; a midden may be of dung (rivals)
	seldom     bool            // few on this continent say it: it comes when nothing else is left (bestLore)
	shown      catalogue.Claim // how an animal shows it: it is asked only with one in play that does, and with one that shows another of its group (contrasts)
}

var loreRelated = map[string]loreRelation{
	"pedicle":                         {of: []string{"Cervidae"}},
	"velvet":                          {of: []string{"Cervidae"}},
	"brow tine":                       {of: []string{"Cervidae"}},
	"main beam":                       {of: []string{"Cervidae"}},
	"burr":                            {of: []string{"Cervidae"}},
	"browse line":                     {of: []string{"Cervidae"}},
	"antlers":                         {of: []string{"Cervidae"}},
	"pellets":                         {of: []string{"Cervidae"}},
	"horns":                           {of: []string{"Bovidae", "Antilocapridae"}},
	"spraint":                         {of: []string{"Mustelidae"}, seldom: true},
	"dewclaws":                        {of: []string{"Cervidae", "Bovidae", "Suidae"}, onlyBeside: true},
	"rub":                             {of: []string{"Cervidae"}},
	"buck scrape":                     {of: []string{"Cervidae"}},
	"deer yard":                       {of: []string{"Cervidae"}},
	"wallow":                          {of: []string{"Suidae", "Bovidae"}},
	"form":                            {of: []string{"Leporidae"}},
	"midden":                          {of: []string{"Sciuridae"}, alsoTells: "latrine"},
	"latrine":                         {alsoTells: "midden"},
	"drey":                            {of: []string{"Sciuridae"}},
	"owl pellet":                      {of: []string{"Strigidae"}},
	"scent mound":                     {of: []string{"Castoridae"}},
	"push-up":                         {of: []string{"Cricetidae"}},
	"dust bath":                       {of: []string{"Phasianidae"}},
	"girdling":                        {of: []string{"Leporidae", "Cricetidae", "Castoridae", "Erethizontidae"}},
	"a dark, moist and shiny surface": {onlyBeside: true},
	"a dull, cracked surface, dry all through":                                      {onlyBeside: true},
	"webs between the toes":                                                         {onlyBeside: true, shown: shows("hind_webbing", "full")},
	"long front claws":                                                              {alsoTells: "a hind toe set apart from the others, without a claw", shown: shows("long_front_claws", "yes")},
	"furred feet that spread wide":                                                  {of: []string{"Leporidae"}, shown: shows("furred_sole", "yes")},
	"a hind toe set apart from the others, without a claw":                          {shown: shows("thumb", "yes")},
	"claw marks, and a triangular heel pad":                                         {shown: shows("heel_pad", "triangular")},
	"prints with three lobes along the rear edge of the heel pad and no claw marks": {shown: shows("pad_lobes_back", "yes")},
	"plantigrade":      {shown: shows("posture", "plantigrade")},
	"digitigrade":      {shown: shows("posture", "digitigrade")},
	"unguligrade":      {shown: shows("posture", "unguligrade")},
	"carnassials":      {shown: shows("carnassials", "yes")},
	"bunodont teeth":   {shown: shows("cheek_teeth", "crushing")},
	"selenodont teeth": {shown: shows("cheek_teeth", "crescent-ridged")},
}
