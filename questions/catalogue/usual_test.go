package catalogue

import (
	"slices"
	"testing"
)

var (
	ridges  = Trait{ID: "ridges", Kind: State, Allowed: []string{"none", "V", "crest", "lyre"}, Wording: Wording{Says: "has {none:no ridges|V:a V|crest:a crest|lyre:a lyre}"}}
	teethIn = Trait{ID: "teeth", Kind: Count, Wording: Wording{Says: "has {} teeth"}}
	formed  = Trait{ID: dentalFormula, Kind: Formula, Wording: Wording{Says: "has the formula {}"}}
)

// readAs is a value as a sheet would give it.
func readAs(t *testing.T, trait Trait, text string) Value {
	t.Helper()
	v, allowed := parse(trait, text)
	if allowed != "" {
		t.Fatalf("%s %q is refused: %s", trait.ID, text, allowed)
	}
	if v.Status == "" {
		v.Status = Known
	}
	return v
}

// What is usual holds of the species that usually shows it, fails only where it
// can't be, and proves nothing of what is certain.
func TestClaimsOnWhatVaries(t *testing.T) {
	const squirrel, fixed22 = "I 1/1 C 0/0 P 2(1)/1 M 3/3", "I 1/1 C 0/0 P 2/1 M 3/3"
	for _, x := range []struct {
		trait  Trait
		cell   string
		op     string
		value  string
		expect Truth
	}{
		{ridges, "none;?crest", "=", "usually none", True},
		{ridges, "none;?crest", "=", "none", Undecided},
		{ridges, "none;?crest", "=", "crest", Undecided},
		{ridges, "none;?crest", "=", "V", False},
		{ridges, "none;?crest", "!=", "V", True},
		{ridges, "none;?crest", "=", "usually V", False},
		{ridges, "?lyre;?crest", "=", "usually lyre", Undecided},
		{ridges, "?lyre;?crest", "=", "none", False},
		{ridges, "none", "=", "usually none", Undecided},
		{ridges, "V", "=", "usually none", False},
		{teethIn, "22;?20..22", "=", "usually 22", True},
		{teethIn, "22;?20..22", "=", "22", Undecided},
		{teethIn, "22;?20..22", "=", "20", Undecided},
		{teethIn, "22;?20..22", "=", "24", False},
		{teethIn, "22;?20..22", ">=", "20", True},
		{teethIn, "22;?20..22", ">=", "22", Undecided},
		{teethIn, "20", "=", "usually 22", False},
		{teethIn, "28..36", "=", "32", Undecided},
		{teethIn, "28..36", "<", "40", True},
		{formed, squirrel, "=", "usually " + fixed22, True},
		{formed, squirrel, "=", "I 1/1 C 0/0 P 1/1 M 3/3", Undecided},
		{formed, squirrel, "=", "I 1/1 C 0/0 P 0/0 M 3/3", False},
		{formed, "I 1/1 C 0/0 P 1/1 M 3/3", "=", "usually " + fixed22, False},
		{formed, "I 0/0 C 0/0 P v/v M v/v", "=", fixed22, Undecided},
	} {
		if got := (Claim{x.trait.ID, x.op, x.value}).Holds(readAs(t, x.trait, x.cell)); got != x.expect {
			t.Errorf("%s is %q: the claim %s %q is %d, want %d", x.trait.ID, x.cell, x.op, x.value, got, x.expect)
		}
	}
}

func TestApart(t *testing.T) {
	for _, x := range []struct {
		trait Trait
		a, b  string
		apart bool
	}{
		{ridges, "none;?crest", "V", true}, {ridges, "none;?crest", "?crest;?lyre", false}, {ridges, "V", "V", false}, {ridges, "V", "crest", true},
		{teethIn, "22;?20..22", "20", false}, {teethIn, "28..36", "42", true},
		{formed, "I 3/3 C 1/1 P 4(1-4)/4(1-4) M 2/3", "I 3/3 C 1/1 P 4/4 M 2/2", true},
	} {
		a, b := readAs(t, x.trait, x.a), readAs(t, x.trait, x.b)
		if Apart(a, b) != x.apart || Apart(b, a) != x.apart {
			t.Errorf("%q and %q apart: %v, want %v", x.a, x.b, !x.apart, x.apart)
		}
	}
	if Apart(Value{}, readAs(t, ridges, "V")) || Apart(Value{Status: Variable}, readAs(t, ridges, "V")) {
		t.Error("a value that is not known, or varies without bounds, is apart from none")
	}
}

func TestSayingWhatVaries(t *testing.T) {
	inSpanish := ridges
	inSpanish.Wording = Wording{Says: "tiene {none:la cabeza lisa|V:una V|crest:una cresta|lyre:una lira}", Language: Spanish}
	mainly := Trait{Kind: State, Wording: Wording{Says: "is up by {}"}}
	most := Trait{Kind: State, Wording: Wording{Says: "is up mainly by {}"}}
	seen := Trait{Kind: State, Wording: Wording{Says: "usually shows {}"}}
	gait := Trait{Kind: State, Wording: Wording{Says: "usually shows a {walk:walking|trot:trotting|bound:bounding} gait"}}
	pellets := Trait{Kind: State, Wording: Wording{Says: "comes as {oval:oblong pellets|barrel:large, barrel-shaped ones}"}}
	points := Trait{Kind: State, Wording: Wording{Says: "has {slight:slight points|none:no points|slight or none:slight points or none}"}}
	long := Trait{Kind: Range, Unit: "mm", Wording: Wording{Says: "is {} mm long"}}
	broad := Trait{Kind: Range, Unit: "cm", Wording: Wording{Says: "mide {} cm"}}
	broad.Wording.Language = Spanish
	for _, x := range []struct {
		trait      Trait
		cell, want string
	}{
		{ridges, "none;?crest", "usually has no ridges"}, {ridges, "?lyre;?crest", "has a lyre or a crest"},
		{inSpanish, "none;?crest", "normalmente tiene la cabeza lisa"}, {inSpanish, "?lyre;?crest", "tiene una lira o una cresta"},
		{teethIn, "22;?20..22", "usually has 22 teeth"}, {teethIn, "28..36", "has 28 to 36 teeth"},
		{formed, "I 1/1 C 0/0 P 2(1)/1 M 3/3", "usually has the formula I 1/1 C 0/0 P 2/1 M 3/3"},
		{formed, "I 1/1 C 0-1/0 P 2(1)/1 M 3/3", "has the formula I 1/1 C 0-1/0 P 2(1)/1 M 3/3"},
		{points, "?slight;?none", "has slight points or none"}, {points, "none;?slight", "usually has no points"},
		{gait, "?walk;?trot", "usually shows a walking or a trotting gait"}, {gait, "?trot;?walk;?bound", "usually shows a trotting, a walking or a bounding gait"},
		{pellets, "?oval;?barrel", "comes as oblong pellets or as large, barrel-shaped ones"},
		{long, "57.7..92", "is 58 to 92 mm long"}, {long, "14.2..19.6", "is 14.2 to 19.6 mm long"}, {broad, "2.54..7.9", "mide de 2.5 a 7.9 cm"},
		{mainly, "night;?day", "is usually up by night"}, {seen, "walk;?pace", "usually shows walk"}, {most, "night;?day", "is up mainly by night"},
	} {
		if got := x.trait.Say(readAs(t, x.trait, x.cell)); got != x.want {
			t.Errorf("%q says %q, want %q", x.cell, got, x.want)
		}
	}
}

// The export writes a value as its cell does, so that it can be read again.
func TestVaryingCellsAreWrittenAsRead(t *testing.T) {
	for text, trait := range map[string]Trait{"none;?crest": ridges, "?lyre;?crest": ridges, "22;?20..22": teethIn, "?28..36": teethIn, "I 3/3 C 0-1/0-1 P 3(4)/3 M 3/3": formed} {
		if got := readAs(t, trait, text).String(); got != text {
			t.Errorf("%q is written %q", text, got)
		}
	}
	for text, trait := range map[string]Trait{"none;crest": ridges, "?lyre;?hat": ridges, "23;?20..22": teethIn, "22..20": teethIn, "I 1/1 C 0/0 P 2(3-1)/1 M 3/3": formed, "I 1/1 C 0/0 P 2-1/1 M 3/3": formed} {
		if v, allowed := parse(trait, text); allowed == "" {
			t.Errorf("%q is taken, as %+v", text, v)
		}
	}
}

// A formula's counts and total vary with its places; a total of the sheet's own
// stands where they leave it open.
func TestTeethThatVary(t *testing.T) {
	counts := func(formula string, total ...Value) map[string]Value {
		values := map[string]Value{dentalFormula: readAs(t, formed, formula)}
		for _, v := range total {
			values[totalTeeth] = v
		}
		derive(values, formed)
		return values
	}
	bear := counts("I 3/3 C 1/1 P 4(1-4)/4(1-4) M 2/3")
	if p := bear["upper_premolars"]; p.Usual != "4" || p.Lo != 1 || p.Hi != 4 || bear[totalTeeth].String() != "42;?30..42" {
		t.Errorf("a bear has %v upper premolars and %v teeth", p, bear[totalTeeth])
	}
	horse := counts("I 3/3 C 0-1/0-1 P 3(4)/3 M 3/3")
	if horse["upper_canines"].Usual != "" || horse[totalTeeth].String() != "?36..42" {
		t.Errorf("a horse has %v upper canines and %v teeth", horse["upper_canines"], horse[totalTeeth])
	}
	given := readAs(t, teethIn, "32")
	if got := counts("I 3-4/1-2 C 1/0-1 P 2-3/1 M 3/3", given)[totalTeeth].String(); got != "32" {
		t.Errorf("a total that the sheet gives became %s", got)
	}
	if all := within([8]place{{0, 1, -1}, {2, 2, 2}}); !slices.Equal(all, []string{"I 0/2 C 0/0 P 0/0 M 0/0", "I 1/2 C 0/0 P 0/0 M 0/0"}) {
		t.Errorf("within gives %v", all)
	}
}
