package score

import (
	"math"
	"sort"
)

// Render plays a song: 16-bit stereo at SampleRate, left and right in turn,
// as long as the song's Length. The same song always gives the same samples.
func Render(s Song) []int16 {
	m := newMixer(s)
	for _, name := range bandOf(s.notes) {
		m.addStrip(name)
	}
	m.addEffects()
	finish(m.master, float64(s.chart.gain))
	return quantise(m.master)
}

// mixer sums the strips and what they send to the room and the echo.
type mixer struct {
	song               Song
	master, room, echo stereo
	duck               []float64
}

func newMixer(s Song) *mixer {
	n := s.Length.Sample()
	return &mixer{song: s, master: silence(n), room: silence(n), echo: silence(n), duck: ducking(s.Hits, n)}
}

// bandOf lists the instruments in use, in a fixed order: adding in another
// order would round otherwise.
func bandOf(notes []note) []string {
	seen := map[string]bool{}
	var band []string
	for _, n := range notes {
		if !seen[n.instrument] {
			seen[n.instrument] = true
			band = append(band, n.instrument)
		}
	}
	sort.Strings(band)
	return band
}

func (m *mixer) addStrip(name string) {
	ins, set := instruments[name], m.song.chart.mix[name]
	track := m.track(name)
	ins.amplify(track)
	if set.duck > 0 {
		depth := float64(set.duck) / 100
		track.each(func(i int, l, r float64) (float64, float64) {
			g := 1 - depth*m.duck[i]
			return l * g, r * g
		})
	}
	left, right := panned(set.pan)
	gain := decibels(float64(set.level))
	m.master.add(track, 0, gain*left, gain*right)
	send(m.room, track, gain*float64(set.room)/100, left, right)
	send(m.echo, track, gain*float64(set.echo)/100, left, right)
}

func send(to, track stereo, gain, left, right float64) {
	if gain > 0 {
		to.add(track, 0, gain*left, gain*right)
	}
}

// track plays all notes of one instrument.
func (m *mixer) track(name string) stereo {
	track := silence(m.master.len())
	for _, n := range m.song.notes {
		if n.instrument != name {
			continue
		}
		g := n.force * decibels(float64(n.level))
		track.add(instruments[name].voice(n), n.at.Sample(), g, g)
	}
	return track
}

// amplify bends the strip and takes off the treble that bending adds.
func (i instrument) amplify(track stereo) {
	if i.drive == 0 {
		return
	}
	left, right := newFilter(i.bright, 0.8), newFilter(i.bright, 0.8)
	track.each(func(_ int, l, r float64) (float64, float64) {
		return left.low(math.Tanh(i.drive * l)), right.low(math.Tanh(i.drive * r))
	})
}

// ducking is 1 at each kick and falls to 0 before the next beat: the strips
// that ask for it make room for the kick.
func ducking(hits []Hit, samples int) []float64 {
	duck := make([]float64, samples)
	for _, h := range hits {
		if h.Drum != "kick" {
			continue
		}
		at := h.At.Sample()
		for i := at; i < min(at+SampleRate/2, samples); i++ {
			duck[i] = max(duck[i], fall(float64(i-at)/SampleRate, 0.11))
		}
	}
	return duck
}

// addEffects plays the room and the echo. Echoes come after three sixteenths
// of the song's first tempo, and ring in the room too.
func (m *mixer) addEffects() {
	t := m.song.chart.tempoMap()
	repeat := newEcho(t.span(3, t.bends[0].tempo))
	room := newReverb()
	m.master.each(func(i int, l, r float64) (float64, float64) {
		el, er := repeat.step(m.echo.left[i], m.echo.right[i])
		rl, rr := room.step(m.room.left[i]+0.3*el, m.room.right[i]+0.3*er)
		return l + el + rl, r + er + rr
	})
}

// finish takes off what lies below hearing, sets the level and limits.
func finish(s stereo, gain float64) {
	left, right := newFilter(26, 0.7), newFilter(26, 0.7)
	g := decibels(gain)
	s.each(func(_ int, l, r float64) (float64, float64) { return g * left.high(l), g * right.high(r) })
	limit(s)
	fadeOut(s, SampleRate/2)
}

func fadeOut(s stereo, samples int) {
	n := s.len()
	samples = min(samples, n)
	for i := range samples {
		g := float64(i) / float64(samples)
		s.left[n-1-i] *= g
		s.right[n-1-i] *= g
	}
}

func quantise(s stereo) []int16 {
	out := make([]int16, 0, 2*s.len())
	for i := range s.left {
		out = append(out, sample16(s.left[i]), sample16(s.right[i]))
	}
	return out
}

func sample16(x float64) int16 {
	return int16(math.Round(max(-1, min(1, x)) * math.MaxInt16))
}
