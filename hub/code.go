package hub

import (
	"crypto/rand"
	"encoding/binary"
	"fmt"
	"strings"
)

// The words of join codes: short, easy to spell, each of the trade.
var (
	animals = strings.Fields(`badger beaver bison bobcat caribou coyote crane deer duck eagle elk ermine ferret
		finch fisher fox goose grouse gull hare hawk heron lynx magpie marmot marten mink mole moose mouse
		muskrat newt opossum osprey otter owl pheasant pigeon pika plover pronghorn quail rabbit raccoon raven
		robin sheep shrew skunk snipe sparrow squirrel swan teal toad trout turkey turtle vole weasel wolf
		wolverine wren`)
	signs = strings.Fields(`antler bark bed bluff bog bone brook browse burrow cache canine cedar claw creek crest
		den drift drumlin feather fen fern field ford forest grove hollow hoof incisor lodge marsh meadow molar
		moss nest orbit pad path paw pellet pine pond prairie print quill ridge river rub scrape seed shore skull
		slide slope spring spruce stride tail thicket track trail tuft willow wing`)
)

// newCode draws a join code, such as otter-burrow-42.
func newCode() string {
	return fmt.Sprintf("%s-%s-%02d", animals[draw(len(animals))], signs[draw(len(signs))], draw(100))
}

func draw(n int) int {
	var b [8]byte
	rand.Read(b[:]) // never fails
	return int(binary.LittleEndian.Uint64(b[:]) % uint64(n))
}

// cleanCode takes a code as people type it: any case, spaces for hyphens.
func cleanCode(typed string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(typed), func(r rune) bool { return r == '-' || r == ' ' }), "-")
}
