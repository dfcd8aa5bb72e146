package score

import "fmt"

// chord is a root, its tones in semitones above the root, and the ladder a
// riff climbs while the chord sounds.
type chord struct {
	root  pitchClass
	tones []key
	steps ladder
}

var chordKinds = map[string]chord{
	"":     {tones: []key{0, 4, 7}, steps: majorLadder},
	"m":    {tones: []key{0, 3, 7}, steps: minorLadder},
	"5":    {tones: []key{0, 7}, steps: minorLadder},
	"7":    {tones: []key{0, 4, 7, 10}, steps: dominantLadder},
	"maj7": {tones: []key{0, 4, 7, 11}, steps: majorLadder},
	"m7":   {tones: []key{0, 3, 7, 10}, steps: minorLadder},
	"add9": {tones: []key{0, 2, 4, 7}, steps: majorLadder},
	"sus2": {tones: []key{0, 2, 7}, steps: majorLadder},
	"sus4": {tones: []key{0, 5, 7}, steps: suspendedFour},
}

func parseChord(s string) (chord, error) {
	root, kind, err := parsePitchClass(s)
	if err != nil {
		return chord{}, fmt.Errorf("chord %q: %w", s, err)
	}
	c, ok := chordKinds[kind]
	if !ok {
		return chord{}, fmt.Errorf("chord %q: kind %q is not known", s, kind)
	}
	c.root = root
	return c, nil
}

// close gives the chord's tones folded into the octave above base, so that
// chords following each other move as little as possible.
func (c chord) close(base key) []key {
	keys := make([]key, len(c.tones))
	for i, t := range c.tones {
		keys[i] = ((pitchClass(t) + c.root) % 12).above(base)
	}
	return keys
}

// power gives root, fifth and octave, the shape of a driven guitar.
func (c chord) power(base key) []key {
	r := c.root.above(base)
	return []key{r, r + 7, r + 12}
}

// open gives the root, then the tones spread over two octaves above it.
func (c chord) open(base key) []key {
	r := c.root.above(base)
	keys := []key{r}
	for _, t := range c.tones[1:] {
		keys = append(keys, r+t+12)
	}
	return append(keys, r+7, r+24)
}
