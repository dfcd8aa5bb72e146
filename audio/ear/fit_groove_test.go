//go:build fit

package ear

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
)

// The grooves of Debian's mma are arrangements in the manner of many kinds of
// dance and song. Each is played with chords of ours, at about the tempo at
// which such music is common (common practice, no source).

const grooveFolder = "/usr/share/mma/lib/stdlib"

const grooveTempi = `50srock 150 60srock 135 8beat 120 afro-cuban 115 arpeggio44 100 arpeggiowaltz 120 ballad 72
basicrock 125 bebop 220 beguine 120 bigband 150 bluefolk 100 bluegrass 125 blues 110 boggiewoggie 160 bolero 90
boneym 128 bossanova 130 broadway 120 broadwaywaltz 150 bubblerock 130 bvfunk 105 bwmarch 112 calypso 110 chacha 120
charleston 200 countryblues 95 countryswing 120 countrywaltz 110 cubanguitar 110 descendingjazz 130 desert 100
dixie 180 dsoul 105 easyswing 120 evansish 130 fastblues 160 fastjazzwaltz 190 fastswing 210 fastwaltz 180 folk 110
folkballad 80 folkrock 125 folkyjazz 120 foxtrot 120 guitarballad 75 gypsyjazz 190 hillcountry 120 hymn 84 jazz-54 150
jazzcombo 130 jazzguitar 110 jazzrhumba 115 jazzrock 115 jazzwaltz 140 jive 170 latinwaltz 130 lfusion 110
lighttango 120 mambo 180 march 112 mellowjazz 100 merengue 140 modernjazz 130 modernjazzwaltz 140 nitejazz 100
pianoballad 70 polka 120 popballad 78 popspiritual 105 quickstep 200 ragtime 110 rb-ballad 68 rb 98 rhumba 110
rockballad 74 rockwaltz 110 salsa 180 samba 105 showtune 125 shuffleboggie 125 ska 150 slowblues 65 slowbolero 75
slowbroadway 80 slowcountry 85 slowjazz 75 slowspiritual 75 softrock 96 softshoe 95 son 170 spiritual 95
stringballad 72 strut 110 swing 140 tango 125 trance 138 twist 155 vienesewaltz 170 waltz 130 westernswing 140 zydeco 130`

var (
	grooveBar   = regexp.MustCompile(`(?im)^\s*time\s+(\d+)`)
	grooveSig   = regexp.MustCompile(`(?im)^\s*timesig\s+(\d+)[ /]+(\d+)`)
	grooveName  = regexp.MustCompile(`(?im)^\s*defgroove\s+(\S+)`)
	grooveAside = regexp.MustCompile(`(?i)intro|end|fill|walk|sus|plus|[12]$|64$`)

	grooveChords = []string{"C Am F G", "C F G C", "Am F C G", "Dm7 G7 CM7 A7", "C G Am F", "Em C G D", "F Bb C F", "Cm Ab Eb Bb"}
)

// groove is one arrangement of mma's library.
type groove struct {
	name  string
	bpm   float64
	beats int
	parts []string // what of it can be repeated
}

func grooves(t *testing.T) []groove {
	var out []groove
	words := strings.Fields(grooveTempi)
	for i := 0; i < len(words); i += 2 {
		text, err := os.ReadFile(filepath.Join(grooveFolder, words[i]+".mma"))
		require.NoError(t, err)
		bpm, err := strconv.ParseFloat(words[i+1], 64)
		require.NoError(t, err)
		g := groove{name: words[i], bpm: bpm, beats: 4}
		if m := grooveBar.FindSubmatch(text); m != nil {
			g.beats, _ = strconv.Atoi(string(m[1]))
		}
		sig := grooveSig.FindSubmatch(text)
		if g.beats < 2 || g.beats > 5 || sig != nil && string(sig[2]) != "4" {
			continue
		}
		for _, m := range grooveName.FindAllSubmatch(text, -1) {
			if !grooveAside.Match(m[1]) {
				g.parts = append(g.parts, string(m[1]))
			}
		}
		if len(g.parts) > 0 {
			out = append(out, g)
		}
	}
	return out
}

// song gives the song of a groove and the MIDI file in which mma plays it.
func (g groove) song(t *testing.T, number int) (*madeSong, []byte) {
	rnd := rand.New(rand.NewPCG(77, uint64(number)))
	s := &madeSong{id: "groove-" + g.name, kind: "groove", bpm: math.Round(g.bpm * (0.88 + 0.24*rnd.Float64())), font: number % len(madeFonts)}
	s.drive, s.tilt, s.hiss = max(0, 6*rnd.NormFloat64()), 0.3*rnd.NormFloat64(), -90+20*rnd.Float64()
	beat := 60 / s.bpm
	bars := int(madeSeconds / beat / float64(g.beats))
	var text bytes.Buffer
	fmt.Fprintf(&text, "RndSeed %d\nTempo %.0f\nTimeSig %d 4\nGroove %s\n", number+1, s.bpm, g.beats, g.parts[rnd.IntN(len(g.parts))])
	chords := strings.Fields(grooveChords[rnd.IntN(len(grooveChords))])
	per := 1 + rnd.IntN(3)/2
	for b := range bars {
		if b == bars/2 {
			fmt.Fprintf(&text, "Groove %s\n", g.parts[rnd.IntN(len(g.parts))])
			chords = strings.Fields(grooveChords[rnd.IntN(len(grooveChords))])
		}
		fmt.Fprintf(&text, "%d %s\n", b+1, chords[b/per%len(chords)])
		at := float64(b*g.beats) * beat
		s.bars = append(s.bars, at)
		for i := range g.beats {
			s.beats = append(s.beats, at+float64(i)*beat)
		}
	}
	s.end = float64(bars*g.beats)*beat + 0.5
	dir := t.TempDir()
	in, out := filepath.Join(dir, "song.mma"), filepath.Join(dir, "song.mid")
	require.NoError(t, os.WriteFile(in, text.Bytes(), 0o600))
	said, err := exec.Command("mma", "-f", out, in).CombinedOutput()
	require.NoError(t, err, "mma: %s", said)
	mid, err := os.ReadFile(out)
	require.NoError(t, err)
	return s, mid
}

// grooveSongs plays every groove.
func grooveSongs(t *testing.T) []*taught {
	all := grooves(t)
	number := make([]int, len(all))
	for i := range number {
		number[i] = i
	}
	return side(number, func(i int) *taught {
		s, mid := all[i].song(t, i)
		f := cachedFeatures(t, filepath.Join(fitDir(), "made", s.id+".gob"), func() audio.Source {
			x := s.render(t, mid)
			return &inMemory{x: x, left: x}
		})
		return &taught{id: s.id, kind: s.kind, bpm: s.bpm, beats: s.beats, bars: s.bars, features: f}
	})
}
