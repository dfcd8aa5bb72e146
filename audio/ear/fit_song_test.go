//go:build fit

package ear

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// madeSong is a song with known beats: what fluidsynth is to play, and the truth.
type madeSong struct {
	id, kind    string
	bpm         float64
	font        int
	drive, tilt float64 // how the sound is treated, see master
	hiss        float64
	channels    [16][2]byte // program and volume
	notes       []madeNote
	beats, bars []float64
	compound    bool
	turns       []float64 // bars from which it sounds otherwise
	end         float64
}

// madeNote is one note; times in seconds.
type madeNote struct {
	channel, key, velocity byte
	from, to               float64
}

const (
	madeSeconds = 42.0
	chordPart   = 0
	bassPart    = 1
	leadPart    = 2
	drumPart    = 9
)

var madeDrums = map[rune]struct{ key, velocity byte }{
	'k': {36, 112}, 's': {38, 110}, 'h': {42, 74}, 'o': {46, 84}, 'r': {51, 80}, 'c': {49, 92}, 't': {45, 96}, 'p': {37, 92},
}

var (
	madeChordSounds = []byte{29, 30, 30, 30, 27, 25, 24, 0, 0, 4, 16, 18, 80, 81, 88, 48, 61, 6, 11}
	madeBassSounds  = []byte{33, 34, 36, 38, 39, 33, 34}
	madeLeadSounds  = []byte{48, 50, 88, 80, 81, 0, 56, 73, 65, 30}
	madeKits        = []byte{0, 0, 0, 8, 16, 16, 24, 25}
	madeChords      = [][]int{{0, 5, 7, 0}, {0, 9, 5, 7}, {0, 8, 3, 10}, {0, 10, 8, 7}, {0, 3, 5, 10}, {0, 0, 5, 7}, {9, 5, 0, 7}, {0, 1, 0, 10}}
)

// maker composes one song of a style.
type maker struct {
	*rand.Rand
	style
	song                 *madeSong
	beat, bar, step, at0 float64 // s
	eighth               float64
	push                 float64 // s by which chords come early
	loose                float64 // s, standard deviation of the playing
	lag                  [16]float64
	riff, bassRiff       byte
	figure, leadFigure   []bool // which eighths of two bars are played
	kicks                []bool // which steps the kick plays in the present bar
	root                 int
}

func makeSong(s style, number int) *madeSong {
	m := &maker{Rand: rand.New(rand.NewPCG(uint64(len(s.name))*1000+uint64(s.name[0]), uint64(number))), style: s}
	m.song = &madeSong{kind: s.name, compound: m.compound()}
	m.tempo()
	m.sounds()
	m.habits()
	m.play()
	return m.song
}

func (m *maker) tempo() {
	felt := m.low * math.Pow(m.top/m.low, m.Float64())
	if m.Float64() < 0.85 {
		felt = math.Round(felt)
	}
	m.song.bpm = felt
	m.beat = 60 / felt
	beats := m.num
	if m.compound() {
		beats /= 3
	}
	m.bar = m.beat * float64(beats)
	m.step = m.bar / float64(len(m.drums[0][0]))
	m.eighth = m.beat / 2
	switch {
	case m.compound():
		m.eighth = m.beat / 3
	case m.den == 8:
		m.eighth = m.beat
	}
	m.at0 = 0.02 + m.Float64()*2*float64(m.IntN(2))
}

func (m *maker) compound() bool { return m.den == 8 && m.num%3 == 0 }

func (m *maker) sounds() {
	s := m.song
	s.font = m.IntN(len(madeFonts))
	s.channels[chordPart] = [2]byte{pick(m, madeChordSounds), byte(50 + m.IntN(78))}
	s.channels[bassPart] = [2]byte{pick(m, madeBassSounds), byte(60 + m.IntN(68))}
	s.channels[leadPart] = [2]byte{pick(m, madeLeadSounds), byte(50 + m.IntN(70))}
	s.channels[drumPart] = [2]byte{pick(m, madeKits), byte(70 + m.IntN(58))}
	if m.name == "metal" || m.name == "thrash" || m.name == "punk" {
		s.channels[chordPart] = [2]byte{29 + byte(m.IntN(2)), byte(90 + m.IntN(38))}
	}
	s.drive = max(0, m.NormFloat64()*6+2) // dB
	s.tilt = m.NormFloat64() * 0.35
	s.hiss = -90 + 30*m.Float64()
}

func pick[T any](m *maker, from []T) T { return from[m.IntN(len(from))] }

func (m *maker) habits() {
	m.root = 28 + m.IntN(12)
	m.riff = m.riffs[m.IntN(len(m.riffs))]
	m.bassRiff = pick(m, []byte("1b8okkm"))
	if m.Float64() < 0.3 {
		m.push = m.eighth
	}
	m.loose = pick(m, []float64{0, 0, 0.003, 0.006, 0.010})
	for c := range m.lag {
		m.lag[c] = 0.004 * m.NormFloat64()
	}
	m.figure, m.leadFigure = m.rhythm(0.55), m.rhythm(0.4)
}

// rhythm draws which eighths of two bars a figure plays; mostly the first.
func (m *maker) rhythm(dense float64) []bool {
	out := make([]bool, 2*m.eighths())
	for i := range out {
		out[i] = m.Float64() < dense
		if i%m.eighths() == 0 {
			out[i] = m.Float64() < 0.8
		}
	}
	return out
}

func (m *maker) eighths() int { return int(math.Round(m.bar / m.eighth)) }

// play writes the bars: sections of four or eight, an introduction, fills and rests.
func (m *maker) play() {
	bars := int(madeSeconds / m.bar)
	intro := pick(m, []int{0, 0, 0, 2, 4})
	m.lead()
	chords := pick(m, madeChords)
	per := pick(m, []float64{1, 1, 2, 0.5})
	phrase := pick(m, []int{4, 8, 8})
	pattern := pick(m, m.drums)
	crash, fills := m.Float64() < 0.7, m.Float64() < 0.7
	rest, drummed := -1, false
	if m.Float64() < 0.4 {
		rest = m.IntN(bars/phrase+1) * phrase
	}
	for b := range bars {
		t := m.at0 + float64(b)*m.bar
		before := [3]string{pattern[0], string(m.riff), fmt.Sprint(chords)}
		if b%phrase == 0 && b > 0 {
			if m.Float64() < 0.5 {
				pattern = pick(m, m.drums)
			}
			if m.Float64() < 0.3 {
				m.riff, chords = m.riffs[m.IntN(len(m.riffs))], pick(m, madeChords)
			}
		}
		drums := b >= intro && !(b >= rest && b < rest+phrase && rest >= 0)
		if b > 0 && (before != [3]string{pattern[0], string(m.riff), fmt.Sprint(chords)} || drums != drummed && len(m.drums[0]) > 1) {
			m.song.turns = append(m.song.turns, t)
		}
		drummed = drums
		m.kicks = kicksOf(pattern)
		if drums {
			m.drumBar(t, pattern, fills && (b+1)%phrase == 0, crash && b%phrase == 0)
		} else if m.Float64() < 0.5 && len(pattern) > 2 {
			m.line(t, pattern[2], 0, len(pattern[2]))
		}
		m.harmony(t, b, chords, per)
		m.mark(t)
	}
	m.song.end = m.at0 + float64(bars)*m.bar + 0.5
}

// lead is what may sound before the first bar: nothing, a count, a pick-up.
func (m *maker) lead() {
	if len(m.drums[0]) < 2 && m.Float64() < 0.7 {
		return
	}
	switch m.IntN(10) {
	case 0: // sticks count one bar
		for t := m.at0; t < m.at0+m.bar-0.01; t += m.beat {
			m.hit(t, 'p', 1)
		}
		m.at0 += m.bar
	case 1, 2: // the upbeat: some eighths, from the off-beat or the beat
		n := 1 + m.IntN(3)
		m.at0 += float64(n) * m.eighth
		for i := range n {
			at := m.at0 - float64(n-i)*m.eighth
			if len(m.drums[0]) > 1 && m.IntN(2) == 0 {
				m.hit(at, 's', 0.9)
			} else {
				m.note(leadPart, m.root+36+pick(m, []int{0, 3, 5, 7}), at, m.eighth*0.9, 90)
			}
		}
	}
}

func kicksOf(pattern []string) []bool {
	out := make([]bool, len(pattern[0]))
	for i, c := range pattern[0] {
		out[i] = c == 'k'
	}
	return out
}

// mark notes the truth of one bar.
func (m *maker) mark(t float64) {
	m.song.bars = append(m.song.bars, t)
	for b := t; b < t+m.bar-0.01; b += m.beat {
		m.song.beats = append(m.song.beats, b)
	}
}

func (m *maker) drumBar(t float64, pattern []string, fill, crash bool) {
	if crash {
		m.hit(t, 'c', 1.2)
	}
	n := len(pattern[0])
	upto := n
	if fill {
		upto = n * 3 / 4
		for i := upto; i < n; i++ {
			if m.Float64() < 0.6 {
				m.hit(t+float64(i)*m.step, pick(m, []rune("sttk")), 0.9)
			}
		}
	}
	for _, line := range pattern {
		m.line(t, line, 0, upto)
	}
}

func (m *maker) line(t float64, line string, from, upto int) {
	for i, c := range line[from:upto] {
		if c != '.' {
			loud := 1.0
			if at := float64(from+i) * m.step / m.beat; math.Abs(at-math.Round(at)) > 0.01 && c != 'k' && c != 's' {
				loud = 0.85
			}
			m.hit(t+float64(from+i)*m.step, c, loud)
		}
	}
}

func (m *maker) hit(t float64, drum rune, loud float64) {
	d := madeDrums[drum]
	m.note(drumPart, int(d.key), t, 0.06, float64(d.velocity)*loud)
}

// note adds one note as a person plays it: not quite in time, not quite even.
func (m *maker) note(channel byte, key int, t, length, velocity float64) {
	t = max(0, t+m.lag[channel]+m.loose*m.NormFloat64())
	v := byte(min(max(velocity+5*m.NormFloat64(), 1), 127))
	m.song.notes = append(m.song.notes, madeNote{channel, byte(key), v, t, t + length})
}

// harmony plays chords, bass and lead of one bar.
func (m *maker) harmony(t float64, bar int, chords []int, per float64) {
	n := m.eighths()
	onBeat := int(math.Round(m.beat / m.eighth))
	for i := range n {
		at := t + float64(i)*m.eighth
		k := int((float64(bar) + float64(i)/float64(n)) / per)
		if m.push > 0 && i == n-1 && math.Mod(float64(bar+1), per) == 0 {
			k++
		}
		root := m.root + chords[k%len(chords)]
		first := i == 0 || per < 1 && i == n/2
		beat, kick := i%onBeat == 0, m.kicks[i*len(m.kicks)/n]
		if m.played(m.riff, i, bar, beat, kick, first) {
			m.chord(root+12, at, beat)
		}
		if m.riff == 'g' && !beat {
			m.chord(root+12, at+m.eighth/2, false)
		}
		if m.played(m.bassRiff, i, bar, beat, kick, first) {
			m.note(bassPart, root, at, m.eighth*0.9, 95)
		}
		if bar >= 2 && m.leadFigure[(bar%2)*n+i] {
			m.note(leadPart, m.root+36+pick(m, []int{0, 3, 5, 7, 10, 12}), at, m.eighth*0.9, 82)
		}
	}
}

// played says whether a riff has a note on eighth i of a bar.
func (m *maker) played(riff byte, i, bar int, beat, kick, first bool) bool {
	switch riff {
	case '8', 'g', 'a':
		return true
	case 'o':
		return !beat
	case 'b':
		return beat
	case 'k':
		return kick || first && m.push == 0
	case 'm':
		return m.figure[(bar%2)*m.eighths()+i]
	}
	if m.push > 0 { // held chords come early
		return i == m.eighths()-1
	}
	return first
}

func (m *maker) chord(root int, t float64, beat bool) {
	length, loud := m.eighth*0.85, 84.0
	if beat {
		loud = 94
	}
	switch m.riff {
	case 'a':
		m.note(chordPart, root+12+pick(m, []int{0, 3, 7, 12}), t, length, loud)
		return
	case 's':
		length = m.bar * 0.9
	}
	for _, up := range []int{0, 7, 12} {
		m.note(chordPart, root+up, t, length, loud)
	}
}
