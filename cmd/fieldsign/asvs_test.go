package main

import (
	"net/url"
	"regexp"
	"strings"
	"testing"
)

// A host key of one's own is long, and such that a header carries it.
func TestHostKeyOfOnesOwn(t *testing.T) {
	for key, good := range map[string]bool{
		"fifteen-letters": true, "a phrase of several words": true, `signs "&#%<>" and all`: true,
		"fourteen-lette": false, "short": false, " with-a-space-before": false, "with-a-space-after ": false, "schlüssel-der-schule": false, "with-a-new\nline-in-it": false,
	} {
		t.Setenv("FIELDSIGN_HOST_KEY", key)
		h, err := parseHosting(nil, nil)
		switch {
		case good && (err != nil || h.key != key):
			t.Errorf("%q: %v", key, err)
		case !good && (err == nil || !strings.Contains(err.Error(), "at least 15") || strings.Contains(err.Error(), key)):
			t.Errorf("%q: %v", key, err)
		}
	}
}

var drawnKey = regexp.MustCompile(`^[a-z2-7]{26}$`) // 5 random bits each

// Without one of one's own each start has another, which nobody chose.
func TestHostKeyIsDrawn(t *testing.T) {
	t.Setenv("FIELDSIGN_HOST_KEY", "")
	drawn := map[string]bool{}
	for range 100 {
		h, err := parseHosting(nil, nil)
		if err != nil || !drawnKey.MatchString(h.key) {
			t.Fatalf("%q, %v", h.key, err)
		}
		drawn[h.key] = true
	}
	if len(drawn) != 100 {
		t.Errorf("of 100 keys %d are unlike", len(drawn))
	}
}

// The link that is printed for the host has the key where no browser sends it.
func TestTheHostsLinkKeepsItsKey(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	h := &hosting{out: &out, key: testKey, address: "http://192.0.2.7:7600"}
	h.announce("otter-burrow-42", "http://localhost:7600", nil)
	for _, word := range strings.Fields(out.String()) {
		if !strings.Contains(word, testKey) {
			continue
		}
		at, err := url.Parse(word)
		if err != nil || at.Fragment != "key="+testKey || strings.Contains(at.RequestURI(), testKey) {
			t.Errorf("the host's link is %s (%v)", word, err)
		}
		return
	}
	t.Errorf("no link has the key:\n%s", out.String())
}
