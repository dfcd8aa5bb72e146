package score

import "strings"

// reading says what the marks of a pattern mean to an instrument.
type reading int

const (
	beats  reading = iota // o, x, X: soft, plain, accented hit
	toms                  // h, m, l: high, middle, low tom
	chords                // o, x, X: the chord of the bar, held by -
	riff                  // 1..9, a..f: degree above the chord's root
	tune                  // 1..9, a..f: degree of the song's key
)

const (
	hitMarks    = "oxX"
	tomMarks    = "hml"
	degreeMarks = "123456789abcdef"
)

// voicing turns a chord into keys at or above a base.
type voicing func(c chord, base key) []key

// instrument is a sound and the way it is written. Drive above zero bends the
// whole strip, as an amplifier would; bright is the strip's cut-off in hertz.
type instrument struct {
	reading reading
	base    key
	voicing voicing
	voice   func(note) stereo
	drive   float64
	bright  float64
}

// drum tells whether hits of the instrument belong to the truth.
func (i instrument) drum() bool { return i.reading == beats || i.reading == toms }

func (i instrument) needsChord() bool { return i.reading == chords || i.reading == riff }

func (i instrument) accepts(mark byte) bool {
	if mark == '.' || mark == '-' {
		return true
	}
	switch i.reading {
	case beats, chords:
		return strings.IndexByte(hitMarks, mark) >= 0
	case toms:
		return strings.IndexByte(tomMarks, mark) >= 0
	}
	return strings.IndexByte(degreeMarks, mark) >= 0
}

func (i instrument) keys(mark byte, s scale, c chord) []key {
	degree := strings.IndexByte(degreeMarks, mark) + 1
	switch i.reading {
	case toms:
		return []key{i.base - key(5*strings.IndexByte(tomMarks, mark))}
	case chords:
		return i.voicing(c, i.base)
	case riff:
		return []key{c.root.above(i.base) + c.steps.degree(degree)}
	case tune:
		return []key{s.tonic.above(i.base) + s.steps.degree(degree)}
	}
	return nil
}

// force gives 0..1; degrees carry no accent of their own, so the pulse does.
func (i instrument) force(mark byte, onPulse bool) float64 {
	switch mark {
	case 'o':
		return 0.4
	case 'X':
		return 1
	}
	if i.reading == beats || i.reading == chords || !onPulse {
		return 0.72
	}
	return 0.85
}

// instruments is the band.
var instruments = map[string]instrument{
	"kick":    {reading: beats, voice: kick},
	"snare":   {reading: beats, voice: snare},
	"clap":    {reading: beats, voice: clap},
	"rim":     {reading: beats, voice: rim},
	"hat":     {reading: beats, voice: closedHat},
	"openhat": {reading: beats, voice: openHat},
	"shaker":  {reading: beats, voice: shaker},
	"ride":    {reading: beats, voice: ride},
	"crash":   {reading: beats, voice: crash},
	"tom":     {reading: toms, base: 50, voice: tom},
	"boom":    {reading: beats, voice: boom},

	"riser":   {reading: chords, voicing: chord.power, base: 40, voice: riser},
	"reverse": {reading: chords, voicing: chord.power, base: 40, voice: reverseCrash},

	"bass":    {reading: riff, base: 28, voice: synthBass},
	"pick":    {reading: riff, base: 28, voice: pickedBass, drive: 1.6, bright: 3200},
	"pad":     {reading: chords, voicing: chord.close, base: 55, voice: pad},
	"strings": {reading: chords, voicing: chord.open, base: 43, voice: bowed},
	"stab":    {reading: chords, voicing: chord.close, base: 60, voice: stab},
	"keys":    {reading: chords, voicing: chord.close, base: 57, voice: electricPiano},
	"guitar":  {reading: chords, voicing: chord.power, base: 40, voice: drivenString, drive: 7, bright: 4200},
	"finger":  {reading: riff, base: 43, voice: pluckedString},
	"arp":     {reading: riff, base: 57, voice: sequence},
	"lead":    {reading: tune, base: 57, voice: lead},
	"vox":     {reading: tune, base: 52, voice: vox},
	"bell":    {reading: tune, base: 64, voice: bell},
}
