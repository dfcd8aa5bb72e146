package crewpage

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image"
	"strings"

	"emberbeat/audio"
	"emberbeat/render"
	"emberbeat/render/front"
	"emberbeat/render/paper"
	"emberbeat/shows/report/crew"
	"emberbeat/timeline"
)

// Logical sizes of the pictures: a song on a phone and on a larger screen, and the
// stage.
const (
	smallWidth = 400
	largeWidth = 1180
	stageWide  = 400
	stageHigh  = 186 // lower than that from which on a stage has a row of what comes: the page has its own
)

// pictures draws for a page.
type pictures struct {
	ctx   context.Context // ends with New
	ask   Ask
	scene *render.Scene
	theme render.Theme
}

func newPictures(ctx context.Context, a Ask) *pictures {
	return &pictures{ctx: ctx, ask: a, scene: render.NewScene(render.NewFaces()), theme: render.Dark}
}

// Sound is the peaks of a recording as they are drawn.
type Sound struct{ *audio.Pyramid }

// Columns fills out with the sound of equal parts of a stretch of time.
func (p Sound) Columns(from, to timeline.Time, out []render.Column) {
	peaks := make([]audio.Peak, len(out))
	p.Range(from.Samples(p.Rate), to.Samples(p.Rate), peaks)
	for i, k := range peaks {
		out[i] = render.Column(k)
	}
}

// listen gives a view the sound of its song, or says why there is none.
func (d *pictures) listen(v *render.SongView, song *timeline.SongHead) {
	if v.Quiet = noAudio; d.ask.Recordings == nil || song.Audio.Path == "" {
		return
	}
	peaks, err := d.ask.Recordings.Peaks(d.ctx, song)
	if err != nil {
		v.Quiet = "no waveform"
		return
	}
	v.Peaks, v.Quiet = Sound{peaks}, ""
}

// axis says where on a picture the song's time runs, in parts of its width.
type axis struct {
	Left  float64 `json:"left"`
	Right float64 `json:"right"`
	From  int64   `json:"from"` // crew.Ticks
	To    int64   `json:"to"`
}

// songData is a song with its pictures' axes.
type songData struct {
	*crew.Song
	Small axis `json:"small"`
	Large axis `json:"large"`
}

func (d *pictures) song(g *crew.Song, i int) (made madeSong, err error) {
	ps := &d.ask.Plan.Songs[i]
	view := render.SongView{Data: render.NewSongData(d.ask.Plan.Show, ps.SongPlan), Marks: render.MarksOf(d.ask.Plan.Show, ps, d.ask.Found)}
	d.listen(&view, &ps.Song.SongHead)
	data := songData{Song: g}
	if made.small, data.Small, err = d.timeline(view, smallWidth, fmt.Sprintf("s%d-", i)); err != nil {
		return made, err
	}
	if made.large, data.Large, err = d.timeline(view, largeWidth, fmt.Sprintf("l%d-", i)); err != nil {
		return made, err
	}
	if made.data, err = json.Marshal(data); err != nil {
		return made, err
	}
	made.density = density(g)
	made.stage, err = d.stage(i)
	return made, err
}

// timeline draws a song as the window does, as wide as asked and as high as its lanes
// need.
func (d *pictures) timeline(v render.SongView, width int, prefix string) (string, axis, error) {
	v.Area = image.Rect(0, 0, width, 0)
	v.Area.Max.Y = render.SongHeight(&v, render.Unit)
	d.scene.Reset(v.Area.Size(), render.Unit)
	var drawer render.SongDrawer
	l := drawer.Draw(d.scene, &d.theme, &v)
	var out bytes.Buffer
	err := paper.WriteInlineSVG(&out, d.scene, v.Data.Plan.Song.FullTitle(), prefix)
	part := func(x int) float64 { return float64(x) / float64(width) }
	return out.String(), axis{part(l.Left), part(l.Right), inTicks(l.Show.From), inTicks(l.Show.To)}, err
}

func inTicks(t timeline.Time) int64 { return int64(t / crew.Tick) }

// stageData is a stage as the scripts draw it: times are Ticks, lengths pixels of the
// picture.
type stageData struct {
	SVG    string    `json:"svg"`
	Floor  float64   `json:"floor"`
	Looks  []lookRow `json:"looks"`
	Spells [][]any   `json:"spells"` // from, to, 1 = stands still + 2 = lines, then for each hit its look, hit, full, closed, gone
}

type lookRow struct {
	Shape string  `json:"shape"`
	Ink   string  `json:"ink"`
	X     float64 `json:"x"`
	Y     float64 `json:"y"`
	AX    float64 `json:"ax"`
	AY    float64 `json:"ay"`
	Long  float64 `json:"long"`
	Root  float64 `json:"root"`
	Grow  float64 `json:"grow"`
	Burst float64 `json:"burst"`
	Rises bool    `json:"rises"`
	Metre float64 `json:"metre"`
}

func (d *pictures) stage(i int) ([]byte, error) {
	d.scene.Reset(image.Pt(stageWide, stageHigh), render.Unit)
	var drawer front.Drawer
	k := drawer.DrawKeys(d.scene, &d.theme, &front.View{Stage: stageOf(d.ask.Plan, i), Area: d.scene.Bounds()})
	var out bytes.Buffer
	if err := paper.WriteInlineSVG(&out, d.scene, "the stage from the front", fmt.Sprintf("f%d-", i)); err != nil {
		return nil, err
	}
	data := stageData{SVG: out.String(), Floor: k.Floor, Looks: []lookRow{}, Spells: [][]any{}}
	for _, l := range k.Looks {
		data.Looks = append(data.Looks, lookRow{string(l.Shape), l.Ink.String(), round(l.X), round(l.Y), round(l.AX), round(l.AY), round(l.Long), round(l.Root), round(l.Grow), round(l.Burst), l.Rises, round(l.Metre)})
	}
	for _, s := range k.Spells {
		flags := 0
		if s.Still {
			flags = 1
		}
		if s.Lines {
			flags += 2
		}
		row := []any{inTicks(s.From), inTicks(s.To), flags}
		for _, h := range s.Hits {
			row = append(row, h.Look, inTicks(h.Hit), inTicks(h.Full), inTicks(h.Closed), inTicks(h.Gone))
		}
		data.Spells = append(data.Spells, row)
	}
	return json.Marshal(data)
}

// round keeps three decimals, a thousandth of a pixel.
func round(x float64) float64 {
	n := int64(x*1000 + 0.5)
	if x < 0 {
		n = int64(x*1000 - 0.5)
	}
	return float64(n) / 1000
}

// densityBars is how many bars the small chart of a song has.
const densityBars = 48

// density draws how many cues each stretch of a song has, in the ink of what most of
// them are.
func density(g *crew.Song) string {
	var bins [densityBars]map[string]int
	most := 1
	for i := range g.Cues {
		c := &g.Cues[i]
		n := int(c.Hit * densityBars / max(g.Duration, 1))
		n = min(max(n, 0), densityBars-1)
		if bins[n] == nil {
			bins[n] = map[string]int{}
		}
		bins[n][c.Class]++
		bins[n][""]++
		most = max(most, bins[n][""])
	}
	var out strings.Builder
	fmt.Fprintf(&out, `<svg class="density" viewBox="0 0 %d 24" preserveAspectRatio="none" aria-hidden="true">`, densityBars*4)
	for i, bin := range bins {
		if bin[""] == 0 {
			continue
		}
		ink := ""
		for _, class := range []string{"hot", "spark", "shot", "cold", "paper", "cloud"} {
			if ink == "" || bin[class] > bin[ink] {
				ink = class
			}
		}
		h := max(2, 24*bin[""]/most)
		fmt.Fprintf(&out, `<path class="i-%s" d="M%d %dh3v%dh-3z"/>`, ink, i*4, 24-h, h)
	}
	out.WriteString("</svg>")
	return out.String()
}
