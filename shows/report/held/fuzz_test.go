package held

import (
	"strings"
	"testing"

	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// Whatever a file holds and whatever is said of it, reading ends with a report in
// which each row is counted once, or with an error.
func FuzzList(f *testing.F) {
	p := rig(f)
	f.Add([]byte(whole), "map timecode=Time\nmap address=Out")
	f.Add([]byte("timecode;bank;output;action\n01:00:03:22;bank 1;3;Fire\n"), "means fire=hit\nseparator=;\nonly bank=bank 1")
	f.Add([]byte("clock\taddress\tnumber\n1:00:03.88\tA-07\t1.1\n"), "means \"A-{n}\"=\"bank 1:{n}\"\ntimes=hits")
	f.Add([]byte("song,seconds,universe,slot\n1,before 2.12,1,45\n"), "names-line=1")
	f.Fuzz(func(t *testing.T, data []byte, said string) {
		var list []timeline.DeskWord
		for _, s := range strings.Split(said, "\n") {
			w, err := timeline.ParseDeskWord(s)
			if err != nil {
				continue
			}
			if again, err := timeline.ParseDeskWord(w.String()); err != nil || again != w {
				t.Fatalf("%q is read as %v", w.String(), again)
			}
			list = append(list, w)
		}
		r, err := NewReading(list)
		if err != nil {
			return
		}
		got, err := Compare(p, report.Filter{}, r, "list.csv", data)
		if err != nil {
			return
		}
		rows, bad := got.Compared, map[int]bool{}
		for _, d := range got.Differences {
			if d.Kind == NotRead || d.Kind == NotKnown {
				bad[d.Line] = true
			}
		}
		for _, n := range got.LeftOut {
			rows += n.Count
		}
		if rows+len(bad) != got.Read {
			t.Fatalf("%d rows compared or left out, %d not read, of %d", rows, len(bad), got.Read)
		}
	})
}
