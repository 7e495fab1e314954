package alike

import "testing"

func TestNames(t *testing.T) {
	for _, same := range [][2]string{{"Otters", "otters"}, {"Otters", "Оtters"}, {"Otters", "ОΤΤЕRЅ"}, {"Hawks", "Нawks"}, {"Otters", "Ｏｔｔｅｒｓ"}, {"Otters", "𝗢𝘁𝘁𝗲𝗿𝘀"},
		{"Lynx", "Iynx"}, {"Team 1", "Team l"}, {"Otters", "Otters"}, {"ΛΥΓΞ", "λυγξ"}, {"Άλφας", "ΆΛΦΑΣ"}, {"Iris", "IRIS"}, {"pаws", "PAWS"}} {
		if !Names(same[0], same[1]) || !Names(same[1], same[0]) {
			t.Errorf("%q and %q look unlike", same[0], same[1])
		}
	}
	for _, other := range [][2]string{{"Otters", "Otter"}, {"Team 1", "Team 2"}, {"Zorros", "Zorras"}, {"Niño", "Nino"}, {"Efts", "Elfs"}, {"🦦", "🦫"}, {"", "a"}} {
		if Names(other[0], other[1]) {
			t.Errorf("%q and %q look alike", other[0], other[1])
		}
	}
}

func TestPlain(t *testing.T) {
	for r, want := range map[rune]string{'a': "a", 'A': "A", 'а': "a", 'Н': "h", 'і': "i", 'І': "i", 'ѕ': "s", 'ρ': "p", 'υ': "u", 'я': "я", '1': "1", '🦦': "🦦"} {
		if got := Plain(r); got != want {
			t.Errorf("%c looks like %q, not %q", r, got, want)
		}
	}
}

func BenchmarkOf(b *testing.B) {
	for b.Loop() {
		Of("The Otters of Class 5b")
	}
}
