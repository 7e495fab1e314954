package main

import (
	"flag"
	"fmt"
	"net/netip"
	"os"
	"strconv"
	"strings"
	"time"
)

// variable is the environment's name for a flag.
func variable(name string) string {
	return "FIELDSIGN_" + strings.ToUpper(strings.ReplaceAll(name, "-", "_"))
}

// parseWithEnvironment reads the flags, and takes those that are not given from
// the environment, where that may set them. Help names both; what the
// environment holds is not shown there, since it may be a password.
func parseWithEnvironment(f *flag.FlagSet, args []string, may func(name string) bool) error {
	f.VisitAll(func(fl *flag.Flag) {
		if may(fl.Name) {
			fl.Usage += fmt.Sprintf(" [%s]", variable(fl.Name))
		}
	})
	if err := f.Parse(args); err != nil {
		return err
	}
	given := map[string]bool{}
	f.Visit(func(fl *flag.Flag) { given[fl.Name] = true })
	var odd error
	f.VisitAll(func(fl *flag.Flag) {
		value := os.Getenv(variable(fl.Name))
		if value == "" || given[fl.Name] || odd != nil || !may(fl.Name) {
			return
		}
		if f.Set(fl.Name, value) != nil { // its error would quote the value
			odd = fmt.Errorf("the environment's %s does not fit --%s; run fieldsign help", variable(fl.Name), fl.Name)
		}
	})
	return odd
}

// anyFlag is for hosting.
func anyFlag(string) bool { return true }

// whereOnly is for commands on what is stored: where that is may be said once
// for all, what to do with it may not.
func whereOnly(name string) bool { return name == "hub" || name == "data" }

// prefixes are addresses, of which each may stand for a whole network.
type prefixes []netip.Prefix

func (p *prefixes) String() string {
	var list []string
	for _, each := range *p {
		list = append(list, each.String())
	}
	return strings.Join(list, ",")
}

func (p *prefixes) Set(text string) error {
	var list prefixes
	for word := range strings.SplitSeq(text, ",") {
		word = strings.TrimSpace(word)
		each, err := netip.ParsePrefix(word)
		if a, single := netip.ParseAddr(word); single == nil {
			each, err = netip.PrefixFrom(a, a.BitLen()), nil
		}
		if err != nil {
			return fmt.Errorf("takes addresses such as 10.0.0.4 or 10.76.0.0/24, not %q", word)
		}
		list = append(list, each.Masked())
	}
	*p = list
	return nil
}

// keeping is how long games are kept: a number of days, or forever. 0 is till
// the hub stops after their end.
type keeping struct {
	days    int
	forever bool
}

const mostDays = 36_500

func (k *keeping) String() string {
	if k.forever {
		return "forever"
	}
	return strconv.Itoa(k.days)
}

func (k *keeping) Set(text string) error {
	if text == "forever" {
		*k = keeping{forever: true}
		return nil
	}
	days, err := strconv.Atoi(text)
	if err != nil || days < 0 || days > mostDays {
		return fmt.Errorf("takes 0 to %d days, or forever", mostDays)
	}
	*k = keeping{days: days}
	return nil
}

const day = 24 * time.Hour

// ofFile is the hub's time for games in a file, which it forgets itself.
func (k keeping) ofFile() time.Duration {
	switch {
	case k.forever:
		return 0
	case k.days == 0:
		return 1
	}
	return time.Duration(k.days) * day
}

// onRedis are the times after which Redis forgets a game by itself: one that
// nobody plays on, and one that has ended, of which the debrief is still read.
func (k keeping) onRedis() (idle, ended time.Duration) {
	days := k.days
	if k.forever {
		days = mostDays
	}
	return max(time.Duration(days)*day, day), max(time.Duration(days)*day, time.Hour)
}
