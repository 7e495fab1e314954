package names

import (
	"strings"
	"testing"
)

func TestRefused(t *testing.T) {
	l := Builtin()
	for _, name := range []string{"Shit", "SHIT happens", "Sh1t", "$hit", "S H I T", "s.h.i.t", "s-h-1-t", "shiiiit", "The Shitters", "Bullsh!t 7", "fuсk", "Fück", "shіt", "ЅНІТ", "sНit", "ѕ h і t", "fυck", "𝓼𝓱𝓲𝓽", "𝐒𝐇𝐈𝐓", "Ｓ Ｈ Ｉ Ｔ", "bullѕhіt 7", "ｓｈｉｔ",
		"p u t a s", "Coño", "cono", "PUT0S", "Los Pendejos", "a s s", "@ss", "Hitlers Otters", "a$$"} {
		if !l.Refuses(name) {
			t.Errorf("%q is let through", name)
		}
	}
}

// Harmless names hold many a bad word's letters.
func TestHarmless(t *testing.T) {
	l := Builtin()
	for _, name := range []string{"Wrens", "Otters 5", "Class 4", "Grass Snakes", "Wish It", "Shiitake", "Nigeria", "Penne", "Bass Lake", "Woodcocks", "Peacocks", "Team 455", "Cassowaries", "Sussex", "Scunthorpe", "Titmice",
		"Assassin Bugs", "Dickcissels", "Cockatoos", "Grapes", "Computadoras", "Disputas", "Circulos", "Рысь", "Бобры 2", "Σκίουροι", "Los Zorros", "Pumas", "Nutrias 3", "A B C", "🦦 7", "Team 1"} {
		if l.Refuses(name) {
			t.Errorf("%q is refused", name)
		}
	}
}

func TestParse(t *testing.T) {
	l, err := Parse("\ufeff# ours\n\nbadger\r\nweasel*\n")
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]bool{"Badger": true, "Badgers": false, "Superweasels": true, "shit": false} {
		if l.Refuses(name) != want {
			t.Errorf("%q: %v", name, !want)
		}
	}
	for text, want := range map[string]string{"a\n": "line 1", "ok\ntwo words": "line 2", "sex*": "too short", "\xff\xfe": "UTF-8", "ok\n--": "line 2"} {
		if _, err := Parse(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}
