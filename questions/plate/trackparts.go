package plate

// trackParts are the classes of the parts, in a drawing of a print, a trail or
// scat, of what each trait speaks of. In the markup a part's class is a word of
// its data-n.
var trackParts = map[string][]string{
	"front_toes": {"toe"}, "hind_toes": {"toe"}, "toes_forward": {"toe"}, "hind_toe": {"back", "touch"}, "thumb": {"thumb"}, "leading_toe": {"lead"},
	"claws_show": {"claw"}, "long_front_claws": {"claw"}, "middle_claws": {"claw"}, "front_webbing": {"web"}, "hind_webbing": {"web"}, "outer_toe_free": {"web"}, "hind_fringe": {"fringe"},
	"heel_pad": {"pad", "pebble"}, "pad_bar": {"bar"}, "pad_lobes_back": {"pad"}, "pad_lobes_front": {"pad"}, "long_hind_heel": {"heel", "sole"}, "negative_space": {"space"}, "toe_line": {"toe"},
	"furred_sole": {"fur"}, "dewclaws": {"dewclaw"}, "dewclaw_set": {"dewclaw"}, "hoof_tips": {"toe"},
	"stride": {"stride"}, "straddle": {"straddle"}, "tail_drag": {"drag"}, "gait": {"print"}, "group_pattern": {"print"}, "turned_in": {"print"}, "larger_foot": {"print"},
	"scat_form": {"body"}, "pellet_shape": {"body"}, "scat_length": {"body"}, "scat_diameter": {"body"}, "scat_ends": {"body"}, "scat_surface": {"body"}, "end_cap": {"cap"}, "scat_grooves": {"groove"},
	"scat_contents": {"hair", "bone", "fish-scales", "crayfish-shell", "insect-parts", "seeds", "wood-fibre", "grass", "plant-fibre", "feathers", "soil", "acorn-shell", "porcupine-quills"},
}
