package report

import (
	"cmp"
	"strconv"
	"strings"

	"emberbeat/shows/report/wording"
)

// CueRow is what one cue does at one moment: its units with the same article, time
// and length as one. An operator watches cues, not outputs.
type CueRow struct {
	Line            // the first of them
	Units  []string // placed effects, or the devices of a window
	Driven []Output // by all of them
	Values []string // what is put on each one's outputs, each text once
	Notes  []string
}

// RowsOf folds lines into rows, in the order of their first lines. Of the lines that
// a row stands for nothing differs but number, units and their positions, outputs,
// values and notes.
func RowsOf(lines []Line) []CueRow {
	type key struct {
		song, cue, action, timecode, hit, article, closes string
		open, lead                                        wording.Seconds
		level                                             int
	}
	at := map[key]int{}
	rows := []CueRow{}
	for i := range lines {
		l := &lines[i]
		k := key{l.Song, l.Cue, l.Action, l.Timecode, l.HitTimecode, l.Article, l.Close, l.Open, l.Lead, l.Level}
		n, known := at[k]
		if !known {
			n = len(rows)
			at[k] = n
			rows = append(rows, CueRow{Line: *l})
		}
		r := &rows[n]
		r.Units = wording.AddOnce(r.Units, cmp.Or(l.PlacedName, l.DeviceName))
		r.Driven = append(r.Driven, l.Outputs...)
		r.Values = wording.AddOnce(r.Values, strings.ReplaceAll(ValuesOf(l.Outputs), " ", ""))
		if l.Note != "" {
			r.Notes = wording.AddOnce(r.Notes, l.Note)
		}
	}
	return rows
}

// FoldedLabels joins the names of outputs in as few letters as they are read by:
// those of one bank or universe as runs of numbers, "bank A · 1–4, 7; DMX 1.101–102".
func FoldedLabels(outputs []Output) string {
	var heads []string
	numbers := map[string][]int{}
	for _, o := range outputs {
		label := strings.Replace(o.Label, " output ", " · ", 1)
		head := strings.TrimRight(label, "0123456789")
		n, err := strconv.Atoi(label[len(head):])
		switch {
		case o.Dead:
			head = label + " (dead)"
		case err != nil, strings.HasSuffix(head, "+"): // a network's name, no address, or a slot of two
			head = label
		default:
			numbers[head] = append(numbers[head], n)
		}
		heads = wording.AddOnce(heads, head)
	}
	for i, head := range heads {
		if len(numbers[head]) > 0 {
			heads[i] += wording.Runs(numbers[head])
		}
	}
	return cmp.Or(strings.Join(heads, "; "), "no output")
}
