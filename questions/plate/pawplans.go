package plate

// pawPlan chooses the plan of a print by what the track sheet says, and where
// that leaves a choice by order and family, which are trait values as well.
func pawPlan(f facts, side string, toes int) paw {
	hind := side == "hind"
	switch {
	case hind && f.yes("thumb"):
		return thumbedHind
	case f.is("outline", "star-shaped"):
		return starFront
	case f.is("outline", "hand-like"):
		return choose(hind, handHind, handFront)
	case f.is("heel_pad", "kidney"):
		return choose(hind, soleHind, kidneyFront)
	case f.is("heel_pad", "bumpy"):
		return pebbled(toes)
	case f.is("order", "Lagomorpha"):
		return choose(hind, furredHind, furredFront)
	case toes == 4 && (f.is("heel_pad", "three-lobed") || f.is("family", "Felidae")):
		return lobedPaw
	case toes == 4 && (f.is("heel_pad", "triangular") || f.is("family", "Canidae")):
		return ovalPaw(f.is("heel_pad", "chevron bar"))
	case f.is("family", "Mephitidae"):
		return choose(hind, closeHind, closeFront)
	case hind && f.is("order", "Rodentia") && f.oneOf("hind_webbing", "full", "partial"):
		return paddleHind
	case f.is("order", "Rodentia") && hind:
		return choose(f.is("larger_foot", "hind") && f.is("gait", "walk"), fingeredHind, longHind)
	case f.is("order", "Rodentia"):
		return smallFront(toes)
	case f.is("order", "Eulipotyphla"):
		return starPaw
	case toes == 5:
		return arcPaw(hind)
	}
	return paw{}
}

func choose(cond bool, a, b paw) paw {
	if cond {
		return a
	}
	return b
}

var lobedPaw = paw{
	toes: []toe{{-.365, .40, .235, .19, -20}, {-.165, .185, .26, .20, -8}, {.105, .125, .26, .20, 5}, {.345, .29, .245, .19, 17}},
	pads: []curve{loop(-.13, .50, 0, .53, .13, .49, .25, .59, .33, .75, .385, .88, .34, .975, .235, .995, .14, .945, .07, .975, 0, 1, -.07, .975,
		-.14, .945, -.235, .995, -.34, .975, -.385, .88, -.33, .75, -.25, .59)},
	clawGap: .03, looks: "four round toes in an arc, set unevenly, over a large pad with two lobes in front and three behind",
}

func ovalPaw(bar bool) paw {
	w := paw{
		toes: []toe{{-.345, .43, .285, .18, -12}, {-.15, .175, .31, .18, -3}, {.15, .17, .31, .18, 3}, {.345, .42, .285, .18, 12}}, drop: true,
		pads: []curve{loop(0, .54, .10, .57, .20, .70, .31, .84, .35, .93, .27, .995, .15, .975, 0, .92, -.15, .975, -.27, .995, -.35, .93,
			-.31, .84, -.20, .70, -.10, .57)},
		clawGap: .025, looks: "four egg-shaped toes, two ahead and two at the sides, over a triangular pad with an X of open ground between them",
	}
	if bar {
		w.pads = []curve{loop(0, .60, .14, .64, .29, .77, .33, .90, .22, .97, 0, .93, -.22, .97, -.33, .90, -.29, .77, -.14, .64)}
		w.marks = []curve{line(-.25, .87, -.14, .83, 0, .755, 0, .755, .14, .83, .25, .87), line(-.25, .905, -.14, .865, 0, .79, 0, .79, .14, .865, .25, .905)}
		w.toes = []toe{{-.36, .43, .25, .15, -12}, {-.15, .16, .27, .155, -3}, {.15, .155, .27, .155, 3}, {.36, .42, .25, .15, 12}}
		w.looks = "four small egg-shaped toes set well apart, over a small pad crossed by a chevron-shaped bar"
	}
	return w
}

var kidneyFront = paw{
	toes: []toe{{-.42, .335, .16, .135, -20}, {-.225, .205, .205, .165, -10}, {0, .16, .215, .175, 0}, {.225, .19, .215, .175, 9}, {.43, .30, .205, .165, 18}},
	pads: []curve{loop(-.49, .60, -.37, .49, -.18, .435, .06, .41, .30, .435, .47, .51, .525, .64, .46, .78, .31, .84, .12, .795, -.08, .79,
		-.28, .80, -.43, .74), oval(.27, 1.04, .17, .15, 20)},
	clawGap: .055, looks: "five toes in a shallow arc, the inner one smallest, over a broad kidney-shaped pad; a small round pad behind",
}

var soleHind = paw{
	toes: []toe{{-.38, .275, .15, .13, -16}, {-.20, .165, .19, .155, -8}, {.0, .13, .20, .165, 0}, {.205, .155, .20, .165, 8}, {.39, .25, .19, .155, 16}},
	pads: []curve{loop(-.445, .50, -.36, .405, -.16, .355, .08, .335, .30, .36, .445, .45, .455, .63, .40, .84, .345, 1.07, .27, 1.32, .10, 1.46,
		-.09, 1.42, -.19, 1.25, -.205, 1.05, -.255, .87, -.40, .70)},
	marks:   []curve{line(-.38, .69, -.15, .66, .1, .67, .40, .74)},
	clawGap: .05, looks: "five toes in a shallow arc over a long bare sole, broad in front, narrowing to a rounded heel",
}

// arcPaw has five toes in an uneven arc, the inner one small and set back.
func arcPaw(hind bool) paw {
	w := paw{
		toes: []toe{{-.43, .52, .175, .14, -38}, {-.29, .26, .21, .15, -20}, {-.03, .145, .22, .155, -3}, {.235, .215, .215, .15, 13}, {.435, .43, .205, .15, 30}},
		pads: []curve{loop(-.335, .79, -.27, .63, -.155, .535, -.06, .55, .02, .505, .11, .54, .21, .535, .33, .65, .395, .80, .34, .905, .235, .87,
			.15, .79, .04, .775, -.06, .765, -.15, .81, -.235, .90, -.315, .885)},
		clawGap: .03, looks: "five toes in an uneven arc, the inner one small and set back, over an arched pad of joined lobes",
	}
	if !hind {
		w.pads = append(w.pads, oval(.22, 1.03, .15, .13, 25))
	}
	return w
}

var closeFront = paw{
	toes: []toe{{-.29, .20, .17, .125, -10}, {-.15, .135, .175, .125, -5}, {0, .11, .18, .125, 0}, {.15, .13, .175, .125, 5}, {.29, .19, .17, .125, 10}},
	pads: []curve{loop(-.33, .36, -.20, .295, 0, .265, .20, .29, .34, .35, .36, .48, .28, .57, .10, .545, -.06, .56, -.27, .58, -.36, .48),
		oval(-.13, .72, .18, .18, -10), oval(.16, .71, .2, .2, 10)},
	clawGap: .05, looks: "five small toes close together, almost in a line, over a broad pad and two round ones",
}

var closeHind = paw{
	toes: []toe{{-.27, .18, .15, .115, -9}, {-.14, .125, .155, .115, -4}, {0, .105, .16, .115, 0}, {.14, .12, .155, .115, 4}, {.27, .17, .15, .115, 9}},
	pads: []curve{loop(-.31, .34, -.16, .26, .02, .245, .20, .27, .33, .35, .33, .50, .22, .57, 0, .555, -.22, .585, -.33, .50),
		loop(-.27, .65, -.10, .615, .12, .60, .27, .64, .27, .80, .20, .97, .07, 1.04, -.09, 1.03, -.19, .95, -.26, .80)},
	marks:   []curve{line(-.16, .37, -.05, .42, -.04, .53), line(.17, .36, .06, .42, .05, .53)},
	clawGap: .03, looks: "five small toes close together over a broad pad, with a long heel set off by a crease",
}

var handFront = paw{
	fingers: []finger{{-.27, .72, -.50, .46, .11}, {-.175, .585, -.30, .165, .11}, {.0, .55, -.01, .04, .115}, {.165, .575, .265, .125, .11}, {.28, .69, .49, .40, .11}},
	pads: []curve{loop(-.25, .64, -.13, .57, 0, .545, .14, .565, .26, .63, .33, .75, .31, .88, .21, .945, .10, .90, 0, .875, -.10, .905,
		-.21, .95, -.31, .88, -.325, .76)},
	clawGap: .03, looks: "like a small hand: five long slim fingers spread from a curved palm",
}

var handHind = paw{
	fingers: []finger{{-.25, .50, -.44, .30, .10}, {-.165, .40, -.26, .10, .105}, {0, .37, -.01, .03, .11}, {.155, .395, .25, .09, .105}, {.255, .47, .43, .26, .10}},
	pads: []curve{loop(-.26, .45, -.12, .385, .02, .365, .16, .385, .28, .45, .325, .58, .27, .74, .215, .92, .15, 1.07, .02, 1.13, -.11, 1.08,
		-.17, .93, -.235, .76, -.32, .60)},
	marks:   []curve{line(-.25, .70, -.10, .66, .08, .66, .24, .71)},
	clawGap: .03, looks: "like a small bare foot: five long slim toes before a long sole that narrows to the heel",
}

var starFront = paw{
	fingers: []finger{{-.20, .66, -.52, .70, .12}, {-.16, .54, -.42, .24, .12}, {0, .49, .0, .05, .12}, {.16, .54, .43, .24, .12}, {.20, .66, .53, .68, .12}},
	pads:    []curve{oval(-.11, .60, .16, .13, -25), oval(.06, .565, .16, .13, 5), oval(.17, .68, .14, .15, 30), oval(-.15, .76, .16, .17, 15), oval(.05, .80, .2, .17, -5)},
	clawGap: .03, looks: "like a star: five toes spread wide, the outer two straight sideways, about a palm of separate lobes",
}

var thumbedHind = paw{
	fingers: []finger{{-.10, .74, -.55, .87, .17}, {-.07, .52, -.16, .07, .12}, {.06, .50, .06, .02, .12}, {.18, .54, .27, .09, .12}, {.25, .64, .52, .36, .12}},
	pads:    []curve{loop(-.14, .60, -.02, .535, .12, .535, .25, .61, .30, .74, .25, .89, .12, .97, -.02, .98, -.13, .91, -.175, .76)},
	marks:   []curve{line(-.07, .64, 0, .70, .10, .67, .20, .72), line(-.02, .88, .06, .82, .17, .84)},
	clawGap: .03, looks: "four toes together and a stout thumb without a claw, pointing inward and back",
}

// pebbled has a sole covered with small knobs, its toes merging into it.
func pebbled(toes int) paw {
	w := paw{clawGap: .1, looks: "an oval sole pebbled all over, the toes hardly set off from it"}
	xs := []float64{-.24, -.085, .085, .24}
	if toes == 5 {
		xs = []float64{-.27, -.14, 0, .14, .26}
	}
	for _, x := range xs {
		w.toes = append(w.toes, toe{x, .11 + 1.1*x*x, .15, .125, x * 60})
	}
	w.pads = []curve{loop(-.05, .22, .16, .24, .31, .36, .345, .55, .31, .76, .22, .94, .02, 1.0, -.19, .95, -.30, .78, -.345, .57, -.32, .38, -.19, .25)}
	for row := range 6 {
		for col := range 5 {
			x, y := (float64(col)-2)*.115+.03*float64(row%2), .33+.112*float64(row)
			if d := (x*x)/.07 + (y-.6)*(y-.6)/.12; d < .95 {
				w.marks = append(w.marks, oval(x, y, .075, .07, 20))
			}
		}
	}
	return w
}

var furredFront = paw{
	toes:  []toe{{-.19, .37, .17, .12, -16}, {-.075, .17, .18, .125, -4}, {.085, .19, .18, .125, 6}, {.20, .39, .17, .12, 16}},
	soles: []curve{loop(-.01, 0, .16, .09, .29, .31, .36, .55, .32, .80, .17, .97, -.04, 1, -.22, .95, -.35, .77, -.35, .52, -.27, .29, -.15, .08)},
	looks: "pear-shaped, narrow in front, all its sole furred; four small toes hardly show and there is no bare pad",
}

var furredHind = paw{
	toes:  []toe{{-.25, .26, .13, .12, -16}, {-.10, .12, .14, .13, -5}, {.09, .115, .14, .13, 4}, {.25, .24, .13, .12, 14}},
	soles: []curve{loop(-.10, .01, .12, 0, .30, .10, .385, .26, .36, .45, .27, .64, .20, .84, .08, .99, -.07, 1, -.18, .88, -.24, .66, -.345, .46, -.39, .27, -.30, .10)},
	looks: "long and pear-shaped, broad in front and narrow at the heel, all its sole furred; four toes hardly show and there is no bare pad",
}

// smallFront is the front foot of the gnawers: four slim toes (or five), the
// outer ones to the sides, and small round pads on palm and heel.
func smallFront(toes int) paw {
	w := paw{
		fingers: []finger{{-.23, .54, -.47, .35, .115}, {-.10, .47, -.155, .06, .115}, {.11, .47, .175, .07, .115}, {.235, .55, .48, .37, .115}},
		pads:    []curve{oval(-.21, .63, .17, .14, -25), oval(.01, .565, .17, .14, 0), oval(.22, .64, .17, .14, 25), oval(-.15, .88, .17, .22, 8), oval(.15, .88, .18, .22, -8)},
		clawGap: .04, looks: "four slim toes, two ahead and two to the sides, before three small palm pads and two heel pads",
	}
	if toes == 5 {
		w.fingers = []finger{{-.26, .64, -.46, .52, .1}, {-.18, .52, -.30, .22, .11}, {0, .48, 0, .06, .115}, {.18, .52, .30, .20, .11}, {.26, .64, .46, .50, .1}}
		w.looks = "five short toes before three small palm pads and two heel pads"
	}
	return w
}

var longHind = paw{
	fingers: []finger{{-.23, .47, -.44, .25, .105}, {-.125, .39, -.185, .045, .11}, {.0, .37, .0, .01, .11}, {.13, .39, .19, .05, .11}, {.235, .48, .45, .27, .105}},
	pads:    []curve{oval(-.245, .55, .14, .12, -25), oval(-.085, .46, .15, .12, -5), oval(.085, .465, .15, .12, 5), oval(.245, .56, .14, .12, 25)},
	soles:   []curve{loop(-.26, .63, -.12, .55, .02, .53, .16, .56, .27, .64, .24, .78, .17, .92, .02, 1, -.13, .94, -.21, .80)},
	clawGap: .035, looks: "three slim toes ahead side by side and one to each side, before four small pads; the heel behind is only sketched",
}

var fingeredHind = paw{
	fingers: []finger{{-.17, .62, -.46, .42, .085}, {-.11, .53, -.27, .12, .09}, {.0, .50, -.005, .01, .095}, {.11, .52, .27, .08, .09}, {.17, .60, .47, .34, .085}},
	pads:    []curve{oval(-.14, .68, .13, .12, -25), oval(.0, .60, .14, .11, 0), oval(.14, .67, .13, .12, 25), oval(-.06, .80, .12, .13, 10)},
	soles:   []curve{loop(-.2, .66, -.06, .56, .08, .56, .21, .65, .20, .80, .13, .94, .01, 1, -.11, .94, -.19, .80)},
	clawGap: .025, looks: "five long slim toes spread like a fan, unwebbed; the heel is only sketched",
}

var paddleHind = paw{
	fingers: []finger{{-.12, .66, -.45, .36, .085}, {-.075, .59, -.28, .10, .095}, {.0, .57, -.01, .01, .10}, {.075, .58, .255, .05, .10}, {.125, .64, .46, .24, .095}},
	soles:   []curve{loop(-.18, .64, -.08, .585, .02, .575, .11, .585, .20, .635, .225, .76, .17, .92, .03, 1, -.11, .94, -.195, .79)},
	clawGap: .015, looks: "large and fan-shaped: five long toes spread from a narrow heel",
}

var starPaw = paw{
	fingers: []finger{{-.20, .62, -.46, .50, .10}, {-.14, .54, -.29, .17, .105}, {0, .50, 0, .05, .105}, {.14, .54, .29, .17, .105}, {.20, .62, .46, .48, .10}},
	pads:    []curve{oval(-.17, .66, .14, .13, -20), oval(0, .60, .15, .13, 0), oval(.17, .66, .14, .13, 20), oval(-.13, .86, .14, .18, 8), oval(.12, .86, .14, .18, -8)},
	clawGap: .035, looks: "five slim toes spread like a fan before small separate pads",
}
