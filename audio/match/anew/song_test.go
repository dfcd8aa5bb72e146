package anew_test

import (
	"math"
	"math/rand/v2"

	"emberbeat/audio/match/anew"
)

// A song of chance: sections of four bars of four beats, each with chords, bass,
// a tune and drums of its own. The same seed is the same song.
type song struct {
	sections [][]note
}

type note struct {
	beat, beats float64 // in its section
	pitch       int     // MIDI number; of drums which one
	part        int
}

const (
	chords = iota
	bass
	tune
	drums

	sectionBeats = 16
	testRate     = 11025
)

func newSong(seed uint64, sections int) song {
	r := rand.New(rand.NewPCG(seed, 12))
	scale := []int{0, 2, 4, 5, 7, 9, 11}
	tonic := 48 + r.IntN(12)
	degree := func(d int) int { return tonic + scale[(d%7+7)%7] + 12*int(math.Floor(float64(d)/7)) }
	kick := r.Uint32() | 1
	var s song
	for range sections {
		var ns []note
		for bar := range 4 {
			root, at := r.IntN(7), float64(4*bar)
			for i := range 3 {
				ns = append(ns, note{at, 3.8, degree(root + 2*i), chords})
			}
			d := 7 + r.IntN(7)
			for eighth := range 8 {
				t := at + float64(eighth)/2
				if r.IntN(2) == 0 {
					ns = append(ns, note{t, 0.45, degree(root) - 12, bass})
				}
				if r.IntN(5) < 2 {
					d = min(15, max(5, d+r.IntN(5)-2))
					ns = append(ns, note{t, 0.5 + 0.5*float64(r.IntN(2)), degree(d), tune})
				}
				if kick>>(eighth+8*(bar%2))&1 == 1 {
					ns = append(ns, note{t, 0.2, 0, drums})
				}
				if eighth%4 == 2 {
					ns = append(ns, note{t, 0.2, 1, drums})
				}
				if r.IntN(6) > 0 {
					ns = append(ns, note{t, 0.1, 2, drums})
				}
			}
		}
		s.sections = append(s.sections, ns)
	}
	return s
}

// band is how a song is played: what it sounds like, how fast, how loosely, in which order.
type band struct {
	order  []int                      // sections, in playing order
	bpm    float64                    // at the start
	change func(beat float64) float64 // of the tempo, 1 as at the start; nil is steady
	key    int                        // semitones up
	lift   []int                      // and so many more in each of the sections that are played; nil is none
	sounds uint64                     // seed of instruments and mix
	loose  float64                    // s, standard deviation of the playing
	noise  float64                    // beside the music, as a share of its level
	lead   float64                    // s before the first beat
}

// recording is a song as a band played it.
type recording struct {
	heard *anew.Sound
	order []int
	beats []float64 // times of all beats and of the end
}

// at gives the time of a beat of the arrangement.
func (r *recording) at(beat float64) float64 {
	i := min(int(beat), len(r.beats)-2)
	return r.beats[i] + (beat-float64(i))*(r.beats[i+1]-r.beats[i])
}

func (r *recording) seconds() float64 { return r.beats[len(r.beats)-1] + 1 }

// play makes the recording.
func (s song) play(b band) *recording {
	out := &recording{order: b.order, beats: []float64{b.lead}}
	for i := range len(b.order) * sectionBeats {
		v := 60 / b.bpm
		if b.change != nil {
			v /= b.change(float64(i))
		}
		out.beats = append(out.beats, out.beats[i]+v)
	}
	r := rand.New(rand.NewPCG(b.sounds, 77))
	x := make([]float32, int(out.seconds()*testRate))
	var voices [3]voice
	for i := range voices {
		voices[i] = newVoice(r)
	}
	mix := [4]float64{0.5 + r.Float64(), 0.5 + r.Float64(), 0.5 + r.Float64(), 0.7 + r.Float64()}
	for k, section := range b.order {
		key := b.key
		if b.lift != nil {
			key += b.lift[k]
		}
		for _, n := range s.sections[section] {
			from := out.at(float64(k*sectionBeats) + n.beat)
			length := out.at(float64(k*sectionBeats)+n.beat+n.beats) - from
			from = max(0, from+b.loose*max(-2.5, min(2.5, r.NormFloat64())))
			to := x[int(from*testRate):]
			if n.part == drums {
				strike(to, n.pitch, mix[drums], r)
			} else {
				voices[n.part].sound(to, n.pitch+key, length, 0.25*mix[n.part])
			}
		}
	}
	if b.noise > 0 {
		power := 0.0
		for _, v := range x {
			power += float64(v) * float64(v)
		}
		level := b.noise * math.Sqrt(power/float64(len(x)))
		for i := range x {
			x[i] += float32(level * r.NormFloat64())
		}
	}
	out.heard = anew.Hear(x, testRate)
	return out
}

// voice is the sound of an instrument.
type voice struct {
	harmonics     [6]float64
	attack, decay float64 // s
}

func newVoice(r *rand.Rand) voice {
	v := voice{attack: 0.003 + 0.02*r.Float64(), decay: 0.3 + 2*r.Float64()}
	bright := 0.4 + 1.2*r.Float64()
	for h := range v.harmonics {
		v.harmonics[h] = math.Pow(float64(h+1), -bright) * (0.3 + 0.7*r.Float64())
	}
	return v
}

func (v *voice) sound(to []float32, pitch int, length, level float64) {
	hz := 440 * math.Pow(2, float64(pitch-69)/12)
	n := min(len(to), int((length+0.05)*testRate))
	for h, a := range v.harmonics {
		w := 2 * math.Pi * hz * float64(h+1) / testRate
		if w > 0.9*math.Pi {
			break
		}
		sin, cos := math.Sincos(w)
		re, im := 1.0, 0.0
		for i := range n {
			t := float64(i) / testRate
			e := min(1, t/v.attack) * math.Exp(-t/v.decay) * min(1, (length+0.05-t)/0.05)
			to[i] += float32(a * level * e * im)
			re, im = re*cos-im*sin, re*sin+im*cos
		}
	}
}

// strike is a kick, a snare or a hat.
func strike(to []float32, which int, level float64, r *rand.Rand) {
	decay := [3]float64{0.08, 0.06, 0.02}[which]
	phase, last := 0.0, 0.0
	for i := range to[:min(len(to), int(6*decay*testRate))] {
		t := float64(i) / testRate
		e := level * math.Exp(-t/decay)
		noise := r.NormFloat64()
		switch which {
		case 0:
			phase += 2 * math.Pi * (50 + 120*math.Exp(-t/0.02)) / testRate
			to[i] += float32(e * math.Sin(phase))
		case 1:
			to[i] += float32(0.3 * e * noise)
		default:
			to[i] += float32(0.15 * e * (noise - last))
		}
		last = noise
	}
}
