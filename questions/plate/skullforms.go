package plate

// skullForm is the side view of one build of skull, facing left, in lengths
// of the skull: x from 0 at the front to 1 at the rear, y down.
type skullForm struct {
	cranium, jaw, arch curve
	orbit              pt
	orbitR             float64
	rostrum, profile   string  // what the form itself shows
	incisors           span    // along the upper jaw
	lowerFront         span    // incisors of the lower jaw
	canine             float64 // upper; the lower one stands just ahead
	cheek              span
	halfWidth          span // of the tooth rows from the middle line, front and rear
	gnawing            bool // one great pair of incisors
	comb               bool // lower canines stand with the incisors
	looks              string
}

// formOf chooses the build by order and family, trait values of the animal sheet.
func formOf(f facts) (skullForm, bool) {
	switch f.text("family") {
	case "Felidae":
		return roundForm, true
	case "Mustelidae", "Mephitidae":
		return lowForm, true
	case "Suidae":
		return wedgeForm, true
	}
	form, ok := map[string]skullForm{
		"Carnivora": longForm, "Didelphimorphia": narrowForm, "Rodentia": gnawingForm, "Lagomorpha": archedForm,
		"Artiodactyla": browsingForm, "Perissodactyla": deepForm, "Eulipotyphla": coneForm, "Chiroptera": globeForm,
		"Cingulata": tubeForm,
	}[f.text("order")]
	return form, ok
}

var longForm = skullForm{
	cranium: loop(.015, .37, 0, .315, .04, .245, .04, .245, .14, .205, .26, .17, .345, .125, .44, .07, .56, .04, .69, .035, .81, .055, .91, .09, .985, .135, .985, .135,
		.965, .20, .95, .265, .975, .305, .955, .345, .905, .355, .89, .405, .865, .40, .85, .375, .81, .41, .75, .395, .69, .375, .62, .36,
		.55, .375, .40, .38, .25, .372, .12, .372, .05, .372),
	jaw: loop(.04, .435, .055, .475, .15, .515, .32, .545, .50, .555, .63, .535, .71, .505, .775, .495, .775, .495, .745, .455, .775, .40, .745, .37,
		.695, .375, .68, .27, .655, .205, .615, .20, .58, .29, .55, .41, .515, .445, .35, .455, .15, .445, .08, .43),
	arch: loop(.335, .275, .37, .245, .43, .265, .465, .235, .465, .235, .50, .268, .58, .265, .67, .245, .76, .215, .79, .235, .765, .27, .69, .295,
		.60, .32, .50, .325, .41, .315, .35, .305),
	orbit: pt{.415, .185}, orbitR: .062, rostrum: "long", profile: "",
	incisors: span{.012, .065}, lowerFront: span{.04, .075}, canine: .115, cheek: span{.15, .545}, halfWidth: span{.065, .15},
	looks: "a long muzzle before an open orbit, wide-swept cheekbones and a rounded braincase",
}

var roundForm = skullForm{
	cranium: loop(.02, .405, 0, .345, .035, .26, .035, .26, .095, .18, .175, .105, .28, .05, .42, .02, .57, .012, .70, .035, .82, .085, .92, .15,
		.985, .215, .975, .285, .955, .34, .975, .385, .935, .425, .885, .435, .86, .455, .79, .475, .71, .46, .63, .42, .55, .415, .46, .43,
		.34, .425, .20, .42, .08, .415),
	jaw: loop(.045, .475, .05, .53, .09, .58, .22, .60, .40, .61, .56, .605, .67, .585, .735, .575, .735, .575, .70, .53, .745, .475, .72, .435, .665, .445,
		.655, .32, .62, .265, .57, .31, .50, .455, .455, .50, .30, .505, .15, .49, .085, .465),
	arch: loop(.235, .345, .28, .315, .36, .325, .42, .31, .445, .265, .445, .265, .485, .315, .58, .315, .68, .29, .765, .255, .785, .285, .72, .335,
		.60, .375, .46, .395, .34, .39, .26, .38),
	orbit: pt{.275, .205}, orbitR: .10, rostrum: "short", profile: "domed",
	incisors: span{.02, .06}, lowerFront: span{.045, .08}, canine: .115, cheek: span{.20, .47}, halfWidth: span{.075, .19},
	looks: "short in the face and rounded, with a great open orbit and wide-swept cheekbones",
}

var lowForm = skullForm{
	cranium: loop(.02, .35, 0, .30, .035, .235, .035, .235, .10, .18, .19, .135, .28, .10, .34, .095, .42, .085, .55, .07, .70, .07, .84, .085, .95, .12, .99, .165,
		.965, .23, .975, .285, .94, .32, .895, .33, .87, .36, .76, .38, .65, .37, .57, .35, .50, .355, .42, .368, .28, .365, .14, .362, .06, .36),
	jaw: loop(.045, .415, .05, .455, .10, .49, .25, .515, .42, .52, .54, .505, .625, .49, .625, .49, .595, .45, .63, .405, .61, .37, .565, .375, .56, .25, .525, .19,
		.48, .235, .445, .365, .405, .42, .25, .438, .12, .425, .075, .41),
	arch: loop(.185, .305, .225, .275, .29, .285, .33, .255, .33, .255, .37, .275, .48, .262, .58, .238, .64, .225, .655, .25, .60, .28, .50, .305, .40, .325,
		.30, .335, .215, .33),
	orbit: pt{.225, .20}, orbitR: .062, rostrum: "short", profile: "flat",
	incisors: span{.02, .06}, lowerFront: span{.04, .075}, canine: .105, cheek: span{.14, .43}, halfWidth: span{.06, .135},
	looks: "short in the face, long and low in the braincase, the orbit small and open, thin cheekbones",
}

var narrowForm = skullForm{
	cranium: loop(.02, .375, 0, .335, .03, .28, .03, .28, .12, .24, .25, .20, .37, .16, .46, .125, .55, .135, .64, .115, .76, .085, .88, .075, .985, .10, .985, .10,
		.965, .17, .955, .24, .975, .295, .945, .335, .89, .36, .80, .375, .70, .385, .63, .38, .58, .385, .45, .392, .30, .385, .15, .382, .06, .38),
	jaw: loop(.045, .435, .06, .47, .20, .51, .40, .545, .58, .55, .70, .525, .81, .475, .81, .475, .765, .445, .795, .395, .765, .36, .715, .365, .705, .24, .665, .19,
		.625, .24, .585, .39, .55, .44, .35, .46, .15, .445, .08, .43),
	arch:  loop(.385, .30, .43, .275, .50, .275, .545, .245, .58, .265, .67, .245, .76, .205, .81, .195, .82, .235, .74, .285, .62, .325, .50, .34, .42, .33),
	orbit: pt{.45, .205}, orbitR: .062, rostrum: "long", profile: "straight",
	incisors: span{.012, .085}, lowerFront: span{.045, .095}, canine: .13, cheek: span{.165, .58}, halfWidth: span{.055, .15},
	looks: "a long tapering muzzle, a very small braincase and heavy cheekbones",
}

var gnawingForm = skullForm{
	cranium: loop(.05, .315, .035, .26, .0, .195, .0, .195, .03, .155, .14, .11, .28, .08, .42, .06, .56, .055, .70, .075, .84, .12, .95, .18, .985, .245,
		.96, .31, .975, .355, .93, .39, .885, .40, .86, .43, .78, .45, .72, .425, .66, .395, .60, .39, .50, .395, .42, .395, .375, .38,
		.30, .34, .20, .325, .13, .335, .105, .335),
	jaw: loop(.125, .475, .125, .50, .18, .54, .28, .59, .40, .615, .53, .62, .65, .625, .745, .61, .745, .61, .715, .55, .73, .47, .765, .41, .745, .37, .71, .385, .68, .42,
		.645, .355, .61, .33, .60, .41, .565, .455, .49, .475, .41, .475, .36, .48, .29, .515, .21, .505, .165, .475),
	arch:  loop(.295, .20, .30, .26, .335, .315, .44, .345, .57, .345, .68, .30, .735, .255, .71, .235, .65, .265, .55, .30, .45, .30, .385, .27, .355, .20, .325, .15),
	orbit: pt{.435, .19}, orbitR: .082, rostrum: "medium", profile: "",
	incisors: span{.05, .10}, lowerFront: span{.125, .165}, cheek: span{.38, .60}, halfWidth: span{.06, .07}, gnawing: true,
	looks: "a blunt muzzle with one great curved pair of front teeth above and below, and a wide arch of the cheek",
}

var archedForm = skullForm{
	cranium: loop(.055, .345, .04, .285, .0, .225, .0, .225, .03, .18, .14, .125, .27, .08, .38, .06, .44, .035, .56, .045, .66, .06, .78, .11, .88, .175, .955, .24, .97, .30,
		.94, .345, .95, .385, .90, .415, .84, .42, .81, .455, .74, .465, .69, .425, .63, .40, .575, .405, .48, .425, .39, .42, .355, .39, .26, .365,
		.17, .365, .115, .37),
	jaw: loop(.13, .50, .135, .53, .24, .575, .34, .615, .46, .645, .58, .655, .70, .645, .775, .585, .765, .50, .755, .42, .745, .335, .71, .31, .675, .335, .66, .39,
		.625, .45, .575, .49, .48, .505, .39, .505, .31, .535, .22, .53, .17, .505),
	arch:  loop(.355, .27, .41, .31, .52, .305, .63, .29, .70, .265, .735, .29, .70, .325, .60, .345, .48, .36, .40, .365, .36, .33),
	orbit: pt{.475, .19}, orbitR: .10, rostrum: "medium", profile: "domed",
	incisors: span{.055, .09}, lowerFront: span{.13, .165}, cheek: span{.385, .585}, halfWidth: span{.085, .10}, gnawing: true,
	looks: "an arched outline, a great round orbit set high at the side, and curved front teeth",
}

var browsingForm = skullForm{
	cranium: loop(.0, .41, .015, .38, .09, .335, .17, .285, .20, .25, .165, .205, .165, .205, .25, .175, .38, .13, .50, .09, .60, .05, .68, .035, .78, .06, .88, .11, .96, .17,
		.985, .22, .96, .275, .975, .325, .945, .36, .905, .37, .90, .435, .875, .44, .845, .385, .78, .40, .71, .38, .65, .375, .60, .405,
		.58, .415, .45, .42, .335, .415, .28, .40, .18, .405, .08, .42, .03, .425),
	jaw: loop(.04, .465, .06, .49, .16, .505, .28, .54, .42, .585, .56, .61, .66, .615, .74, .585, .77, .52, .775, .43, .805, .375, .78, .345, .745, .355, .735, .27, .715, .225,
		.69, .24, .675, .335, .645, .435, .60, .48, .45, .49, .335, .485, .27, .47, .16, .465, .08, .455),
	arch:  loop(.49, .30, .57, .30, .65, .285, .72, .28, .80, .265, .835, .285, .79, .31, .70, .325, .60, .34, .52, .335),
	orbit: pt{.605, .19}, orbitR: .072, rostrum: "long", profile: "",
	lowerFront: span{.03, .085}, canine: .19, cheek: span{.34, .59}, halfWidth: span{.085, .125}, comb: true,
	looks: "a long, slim face without upper front teeth, a wide gap before the cheek teeth and the orbit far back",
}

var deepForm = skullForm{
	cranium: loop(.01, .43, .0, .38, .05, .32, .13, .27, .17, .22, .17, .22, .28, .17, .42, .12, .55, .08, .66, .06, .76, .07, .86, .10, .96, .155, .985, .215, .965, .285,
		.975, .335, .93, .37, .915, .44, .88, .44, .86, .385, .78, .395, .70, .41, .66, .435, .45, .44, .315, .435, .22, .41, .12, .425, .06, .445),
	jaw: loop(.035, .51, .065, .55, .18, .56, .32, .605, .48, .645, .62, .675, .74, .675, .81, .61, .825, .50, .82, .41, .84, .345, .81, .32, .775, .335, .765, .25, .74, .225,
		.72, .30, .71, .42, .67, .49, .48, .505, .315, .505, .22, .50, .12, .50, .075, .49),
	arch:  loop(.50, .305, .60, .295, .70, .28, .78, .27, .86, .255, .885, .28, .82, .31, .72, .33, .60, .345, .52, .335),
	orbit: pt{.655, .19}, orbitR: .062, rostrum: "long", profile: "straight",
	incisors: span{.01, .065}, lowerFront: span{.035, .085}, canine: .16, cheek: span{.32, .66}, halfWidth: span{.08, .12},
	looks: "a very long face, a deep lower jaw and the orbit far back",
}

var wedgeForm = skullForm{
	cranium: loop(.02, .445, .0, .405, .03, .35, .05, .305, .20, .26, .38, .205, .54, .145, .68, .085, .80, .04, .90, .0, .955, .0, .97, .05, .94, .15, .92, .25, .935, .305,
		.905, .36, .88, .475, .85, .48, .825, .40, .76, .40, .70, .435, .64, .44, .50, .44, .35, .445, .22, .445, .10, .45),
	jaw: loop(.03, .505, .08, .55, .16, .59, .30, .605, .50, .62, .68, .64, .80, .64, .86, .575, .85, .48, .865, .385, .83, .35, .79, .37, .775, .31, .75, .30, .73, .37, .70, .475,
		.64, .515, .50, .52, .30, .52, .15, .51, .07, .495),
	arch:  loop(.53, .295, .62, .27, .69, .28, .74, .24, .74, .24, .80, .255, .88, .225, .895, .265, .80, .345, .68, .375, .58, .36),
	orbit: pt{.665, .185}, orbitR: .058, rostrum: "long", profile: "straight",
	incisors: span{.02, .10}, lowerFront: span{.03, .095}, canine: .185, cheek: span{.225, .64}, halfWidth: span{.08, .10},
	looks: "a long wedge rising in a straight line to a high, steep rear",
}

var coneForm = skullForm{
	cranium: loop(.02, .32, 0, .285, .03, .255, .03, .255, .14, .225, .28, .19, .40, .15, .52, .115, .66, .095, .80, .105, .91, .145, .98, .205, .965, .265, .98, .315, .93, .345, .84, .36,
		.74, .35, .64, .335, .57, .33, .45, .338, .30, .335, .12, .33),
	jaw: loop(.06, .395, .085, .415, .20, .43, .36, .445, .50, .45, .60, .435, .71, .415, .71, .415, .67, .385, .70, .345, .67, .32, .63, .33, .615, .25, .585, .235, .555, .285,
		.535, .365, .50, .395, .30, .395, .12, .39),
	arch:  loop(.38, .29, .47, .285, .57, .275, .66, .26, .67, .275, .57, .295, .46, .305, .39, .305),
	orbit: pt{.40, .215}, orbitR: .036, rostrum: "long", profile: "straight",
	incisors: span{.015, .09}, lowerFront: span{.06, .12}, canine: .125, cheek: span{.15, .545}, halfWidth: span{.045, .12},
	looks: "a slim cone drawn out to a pointed snout, the teeth in an unbroken row",
}

var globeForm = skullForm{
	cranium: loop(.02, .425, 0, .37, .03, .305, .03, .305, .10, .275, .22, .25, .33, .20, .42, .12, .54, .06, .68, .045, .82, .09, .93, .18, .985, .28, .97, .36, .93, .42, .86, .45, .79, .49,
		.69, .49, .62, .455, .55, .44, .42, .448, .25, .442, .10, .435),
	jaw: loop(.035, .50, .05, .545, .15, .57, .32, .58, .48, .575, .58, .575, .665, .595, .665, .595, .64, .54, .67, .475, .64, .44, .60, .45, .575, .35, .535, .315, .50, .37, .48, .49,
		.44, .525, .28, .53, .12, .515),
	arch:  loop(.25, .38, .36, .36, .50, .365, .62, .35, .68, .335, .69, .355, .58, .38, .42, .395, .28, .40),
	orbit: pt{.30, .305}, orbitR: .055, rostrum: "short", profile: "domed",
	incisors: span{.02, .06}, lowerFront: span{.035, .075}, canine: .10, cheek: span{.135, .45}, halfWidth: span{.07, .17},
	looks: "a short muzzle before a globe-shaped braincase, thread-thin cheekbones",
}

var tubeForm = skullForm{
	cranium: loop(.01, .345, 0, .305, .03, .27, .03, .27, .18, .245, .36, .205, .50, .155, .60, .105, .72, .08, .84, .09, .94, .14, .985, .21, .96, .28, .93, .32, .84, .35, .74, .345,
		.66, .35, .58, .36, .40, .355, .20, .355, .06, .355),
	jaw:   loop(.09, .41, .20, .43, .40, .445, .56, .46, .68, .47, .74, .435, .70, .395, .72, .325, .69, .30, .66, .32, .65, .25, .62, .24, .60, .335, .56, .395, .40, .41, .20, .405),
	arch:  loop(.46, .295, .56, .295, .66, .28, .75, .25, .76, .275, .66, .32, .54, .335, .47, .325),
	orbit: pt{.55, .22}, orbitR: .06, rostrum: "long", profile: "",
	cheek: span{.20, .56}, halfWidth: span{.05, .075},
	looks: "a long tube of a snout, a smooth braincase and a slender lower jaw",
}
