package score

import (
	"fmt"
	"math"
	"strings"
)

// key is a note number: 69 is A4 at 440 Hz, one step a semitone.
type key int

func (k key) hertz() float64 { return 440 * math.Exp2(float64(k-69)/12) }

// pitchClass is a note without its octave, 0 for C.
type pitchClass int

var letters = map[byte]pitchClass{'C': 0, 'D': 2, 'E': 4, 'F': 5, 'G': 7, 'A': 9, 'B': 11}

// parsePitchClass reads a letter with an optional # or b and returns the rest.
func parsePitchClass(s string) (pitchClass, string, error) {
	if s == "" {
		return 0, "", fmt.Errorf("note name is missing")
	}
	p, ok := letters[s[0]]
	if !ok {
		return 0, "", fmt.Errorf("%q does not start with a note from A to G", s)
	}
	rest := s[1:]
	switch {
	case strings.HasPrefix(rest, "#"):
		return (p + 1) % 12, rest[1:], nil
	case strings.HasPrefix(rest, "b"):
		return (p + 11) % 12, rest[1:], nil
	}
	return p, rest, nil
}

// above gives the lowest key of pitch class p that is not below base.
func (p pitchClass) above(base key) key {
	return base + ((key(p)-base)%12+12)%12
}

// ladder is a scale of seven steps, in semitones above its first.
type ladder [7]key

var (
	majorLadder = ladder{0, 2, 4, 5, 7, 9, 11}
	minorLadder = ladder{0, 2, 3, 5, 7, 8, 10}
	// A dominant chord keeps its flat seventh when a riff runs through it.
	dominantLadder = ladder{0, 2, 4, 5, 7, 9, 10}
	suspendedFour  = ladder{0, 2, 5, 5, 7, 9, 10}
)

// degree counts from 1; 8 is the octave.
func (l ladder) degree(n int) key { return l[(n-1)%7] + key(12*((n-1)/7)) }

// scale is a tonic with its ladder.
type scale struct {
	tonic pitchClass
	steps ladder
}

func parseScale(tonic, mode string) (scale, error) {
	p, rest, err := parsePitchClass(tonic)
	if err != nil || rest != "" {
		return scale{}, fmt.Errorf("key %q is not a note name", tonic)
	}
	switch mode {
	case "major":
		return scale{p, majorLadder}, nil
	case "minor":
		return scale{p, minorLadder}, nil
	}
	return scale{}, fmt.Errorf("mode %q is not known; use major or minor", mode)
}
