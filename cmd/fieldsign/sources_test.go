package main

import (
	"bytes"
	"context"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// Three fifths of the known values rest on a source that was read, in every
// roster; what does not is listed.
func TestCatalogueSources(t *testing.T) {
	t.Parallel()
	for _, roster := range []string{"everything", "furbearers", "waterside", "woodland-edge"} {
		out := printed(t, "catalogue", "sources", "--roster", roster).String()
		m := regexp.MustCompile(`(?m)^all .* (\d+) %$`).FindStringSubmatch(out)
		if m == nil {
			t.Fatalf("%s: no sum in:\n%s", roster, out)
		}
		if share, _ := strconv.Atoi(m[1]); share < 60 {
			t.Errorf("%s: %d %% of the values rest on what was read, want 60", roster, share)
		}
		if !strings.Contains(out, "Still memory, greatest skull length") {
			t.Errorf("%s: what is still memory is not listed", roster)
		}
	}
	out := printed(t, "catalogue", "sources", "bobcat", "--trait", "scat_diameter").String()
	for _, want := range []string{"diameter of the scat: ", "(published)", "reid-2015 of Lynx rufus: 1.3..2.58 cm", "measured: DNA-verified"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not in:\n%s", want, out)
		}
	}
	for _, args := range [][]string{{"unicorn"}, {"bobcat", "--trait", "wings"}} {
		var b bytes.Buffer
		if err := run(context.Background(), append([]string{"catalogue", "sources"}, args...), &b); err == nil {
			t.Errorf("%v is answered: %s", args, b.String())
		}
	}
}
