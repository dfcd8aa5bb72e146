package night

import (
	"fmt"
	"io"

	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/timeline"
)

// Left is what an earlier night has left behind at a placed effect.
type Left struct {
	Night       string `json:"night"` // its date, or its name
	Output      string `json:"output"`
	Placed      string `json:"placed"`
	PlacedName  string `json:"placed_name"`
	Article     string `json:"article"`
	ArticleName string `json:"article_name"`
	Pieces      int    `json:"pieces"`
}

// leftBefore lists what earlier nights have left: loads that stand unfired, and
// misfires nobody has cleared. The tour itself is no day, and has none.
func leftBefore(p *timeline.Plan) (loaded, misfires []Left) {
	if p.Night == nil {
		return nil, nil
	}
	a, b := p.Show.LeftBefore(p.Night)
	for _, x := range a {
		loaded = append(loaded, tonightLeft(p.Show, x))
	}
	for _, x := range b {
		misfires = append(misfires, tonightLeft(p.Show, x))
	}
	return loaded, misfires
}

func tonightLeft(s *timeline.Show, x timeline.Left) Left {
	placed, article, _ := report.LoadNames(s, x.Outcome)
	return Left{load.NightDay(x.Night), report.OutputName(s, x.Outcome), string(x.Placed), placed, string(x.Article), article, x.Pieces}
}

func (t *Tonight) writeBefore(out io.Writer) {
	if len(t.Misfires)+len(t.Loaded) == 0 {
		return
	}
	fmt.Fprintln(out, "\nLeft by earlier nights")
	for _, m := range t.Misfires {
		fmt.Fprintf(out, "  OPEN MISFIRE at %s, %s (%s), of %s: nobody has cleared it\n", m.Output, m.PlacedName, m.ArticleName, m.Night)
	}
	for _, l := range t.Loaded {
		fmt.Fprintf(out, "  still loaded at %s, %s: %s, not fired on %s\n", l.Output, l.PlacedName, l.ArticleName, l.Night)
	}
}

// Key is a hand cue as tonight has it.
type Key struct {
	Key   int    `json:"key"` // 0 = none
	Name  string `json:"name"`
	When  string `json:"when"`
	Units int    `json:"units"`
	Off   string `json:"left_out,omitempty"` // why it is not meant tonight
}

func keysOf(p *timeline.Plan) []Key {
	var list []Key
	for i := range p.Keys {
		k := &p.Keys[i]
		list = append(list, Key{Key: k.Cue.Key, Name: k.Cue.Name, When: report.MeantWhen(p, k.Cue, k.Song), Units: len(k.Uses)})
	}
	for _, o := range p.KeysOff {
		list = append(list, Key{Key: o.Cue.Key, Name: o.Cue.Name, When: report.MeantWhen(p, o.Cue, -1), Off: o.Why})
	}
	return list
}

func (t *Tonight) writeKeys(out io.Writer) {
	if len(t.Keys) == 0 {
		return
	}
	fmt.Fprintln(out, "\nOperator's plan (paper: no key drives anything)")
	for _, k := range t.Keys {
		name := (&timeline.HandCue{Key: k.Key, Name: k.Name}).Label()
		if k.Off != "" {
			fmt.Fprintf(out, "  %s: not tonight, %s\n", name, k.Off)
			continue
		}
		fmt.Fprintf(out, "  %s: %s, %s\n", name, timeline.Counted(k.Units, "unit"), k.When)
	}
}
