package shows_test

import (
	"fmt"
	"strings"
	"testing"

	"emberbeat/shows"
	"emberbeat/timeline"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawShow makes a show of random records, filled through the field tables,
// with comments and unknown keys. References need not lead anywhere.
func drawShow(t *rapid.T) *timeline.Show {
	s := timeline.NewShow("show", "", timeline.Rate25)
	for _, k := range timeline.Kinds() {
		switch {
		case k.Name == "show":
			s = put(s, "", drawRecord(t, k, "show", ""))
		case !k.InSong:
			s = put(s, "", drawRecords(t, k, "")...)
		default:
			for _, g := range s.Songs {
				s = put(s, g.ID, drawRecords(t, k, g.ID)...)
			}
		}
	}
	return s
}

func put(s *timeline.Show, song timeline.ID, recs ...timeline.Record) *timeline.Show {
	d := timeline.NewDraft(s)
	d.Put(song, recs...)
	return d.Show()
}

func drawRecords(t *rapid.T, k *timeline.Kind, song timeline.ID) (recs []timeline.Record) {
	for i := range rapid.IntRange(0, 3).Draw(t, k.Plural) {
		recs = append(recs, drawRecord(t, k, timeline.ID(fmt.Sprintf("%s-%d", k.Name, i)), song))
	}
	return recs
}

func drawRecord(t *rapid.T, k *timeline.Kind, id, song timeline.ID) timeline.Record {
	r := k.New(id)
	for i := range k.Fields {
		f := &k.Fields[i]
		if f.Name == "slug" {
			_ = f.Set(r, timeline.Value{Text: string(id)})
		} else if rapid.Bool().Draw(t, f.Name) {
			_ = f.Set(r, drawValue(t, k, f)) // what does not fit leaves the default
		}
	}
	timeline.SetKept(r, drawKept(t, k, r))
	return r
}

var someText = rapid.OneOf(
	rapid.SampledFrom([]string{"", "a", `say "hi"`, `C:\tmp`, "it's", `both ' and "`, "\ttab", "ünï — ✓", "#no comment", "a = b", "[[x]]", "''' \"\"\""}),
	rapid.StringOfN(rapid.RuneFrom([]rune(` ab"'\#=[]{},é`)), 0, 12, -1),
)

func drawValue(t *rapid.T, k *timeline.Kind, f *timeline.Field) timeline.Value {
	n := rapid.IntRange(0, 100000).Draw(t, "n")
	time := fmt.Sprintf("%d.%04d", n/100, n%10000)
	switch {
	case len(f.Choices) > 0:
		return timeline.Value{Text: rapid.SampledFrom(f.Choices).Draw(t, "choice")}
	case f.Type == timeline.IntegerField:
		return timeline.Value{Text: fmt.Sprint(n % 100)}
	case f.Type == timeline.NumberField:
		return timeline.Value{Text: fmt.Sprint(float64(n%1000) / 8)}
	case f.Type == timeline.FlagField:
		return timeline.Value{Text: "true"}
	case f.Type == timeline.ListField:
		return timeline.Value{Items: drawItems(t, k, f)}
	case f.Unit == "s":
		return timeline.Value{Text: time}
	case len(f.Ref) > 0:
		return timeline.Value{Text: fmt.Sprintf("%s-%d", f.Ref[0], n%3)}
	case f.Name == "group":
		return timeline.Value{Text: "g1"}
	case f.Name == "at" || f.Name == "to":
		return timeline.Value{Text: rapid.SampledFrom([]string{time + "s", fmt.Sprintf("%d.%d+1/3", n%50-2, 1+n%4), fmt.Sprint(n % 20)}).Draw(t, "moment")}
	case f.Name == "start":
		return timeline.Value{Text: fmt.Sprintf("%02d:00:00:0%d", n%24, n%10)}
	case f.Name == "date" || f.Name == "counted" || f.Name == "expires" || f.Name == "notified":
		return timeline.Value{Text: "2031-05-09"}
	case f.Name == "begins":
		return timeline.Value{Text: fmt.Sprintf("%02d:30", n%24)}
	case f.Name == "severity":
		return timeline.Value{Text: "note"}
	}
	return timeline.Value{Text: someText.Draw(t, "text")}
}

// itemExamples are items of the lists that have a grammar of their own.
var itemExamples = map[string][]string{
	"slots":         {"1.1", "1.2 role=arm on=64..127", `1.3 role=level name="high = low" wide`},
	"slot-changes":  {`1.1 name="pan" at=3.17`, "1.2 role=arm head=1 on=64..127 off=0"},
	"starts":        {"1.1", "513", "7.512"},
	"beats":         {"1.1 at=0.5 metre=6/8", "9.1 at=17.123456789", "20.1 at=40 metre=4/4"},
	"entries":       {"song-0 gap=30 talk=\"thank you\" encore", "song-1", "gone alt=a out"},
	"audience":      {"front from=-12,-3 to=12,-3", `"left wall" from=1,2 to=3,4.5`},
	"quiet-windows": {`"no reports late" from=22:30 to=00:30 families=report,flash-pot`, "dark song=song-0 section=bridge"},
	"performers":    {"singer at=0,2 radius=1"},
	"clear-zones":   {"stairs at=-4,2.5", `"say \"x\"" at=1,1`},
	"cuts":          {"family=propane-flame reason=\"house rule\"", "cue=cue-1"},
	"swaps":         {"article=article-0 to=article-1"},
	"rig-changes":   {"bank=bank-0 out why=wet"},
	"shifts":        {"song=song-0 by=-0.5", "song=song-1 start=01:02:03:04"},
	"accepted":      {"rule=recovery record=cue:song-0/cue-1 by=\"stage manager\" reason=\"seen on site\""},
	"fills":         {"supply=supply-0 kg=22.7"},
	"refills":       {`supply-0 after=song-1 kg=22.7 minutes=4.5 by="rigger 2"`, "supply-1 after=song-0 out"},
	"outcomes":      {"bank-0:7 fired placed=placed-0 article=article-1", `device-1:2 misfired placed=placed-1 article=article-0 pieces=3 cleared-by="A. Name" cleared-note="soaked"`, "bank-1:10000 unfired placed=gone article=gone"},
	"permits":       {`"fire office" number=12-7 by="Fire office" until=2031-06-01`, "harbour"},
	"insurance":     {`liability number=1 until=2030-01-31`},
	"exits":         {"left at=-12,3", `"stage right" at=12,3`}, "extinguishers": {"foam at=1,1"}, "control": {"desk at=0,-30"}, "spotters": {"left at=-9,0"},
	"weights": {"supply=supply-0 kg=0", "supply=supply-1 kg=3.25"},
}

func drawItems(t *rapid.T, k *timeline.Kind, f *timeline.Field) []string {
	if examples, ok := itemExamples[f.Name]; ok {
		return examples[:rapid.IntRange(0, len(examples)).Draw(t, "items")]
	}
	if len(f.Ref) > 0 {
		return []string{f.Ref[0] + "-1", f.Ref[0] + "-0"}
	}
	return rapid.SliceOfN(someText, 0, 4).Draw(t, "items")
}

var someNote = rapid.Custom(func(t *rapid.T) (n timeline.KeptKey) {
	n.Above = rapid.SampledFrom([][]string{nil, {"# above"}, {"# one", "", "#two"}}).Draw(t, "above")
	n.Beside = rapid.SampledFrom([]string{"", "# beside", "#tight"}).Draw(t, "beside")
	return n
})

// drawKept makes comments and unknown keys such as the reader gives.
func drawKept(t *rapid.T, k *timeline.Kind, r timeline.Record) *timeline.Kept {
	if !rapid.Bool().Draw(t, "kept") {
		return nil
	}
	kept := &timeline.Kept{}
	n := someNote.Draw(t, "record")
	kept.Above, kept.Beside = n.Above, n.Beside
	if k.Name == "cue" {
		kept.Unknown = []timeline.KeptPair{{Key: "x-y", Raw: `{ a = [1, 2], "b c" = 'd' }`}}
		return kept
	}
	note := func(key string, n timeline.KeptKey) {
		if len(n.Above) > 0 || n.Beside != "" {
			if kept.Keys == nil {
				kept.Keys = map[string]timeline.KeptKey{}
			}
			kept.Keys[key] = n
		}
	}
	note("id", someNote.Draw(t, "id"))
	for i := range k.Fields {
		f := &k.Fields[i]
		if f.Name == "slug" {
			continue
		}
		note(f.Name, someNote.Draw(t, f.Name))
		if items := f.Get(r).Items; len(items) > 0 {
			note(f.Name+"="+items[0], someNote.Draw(t, "item"))
			note(f.Name+"]", timeline.KeptKey{Above: someNote.Draw(t, "last").Above})
		}
	}
	kept.Unknown = []timeline.KeptPair{
		{Key: "unknown", Raw: "[\n  1, # one\n]", Note: someNote.Draw(t, "unknown")},
		{Key: `"a:b".c`, Raw: "2030-01-01"},
	}
	table := "[" + k.Name + ".more]\nx = 1\n# inside\ny = { }"
	if k.Part == timeline.ShowPart && k.Name == "show" || k.Name == "song" || k.Name == "venue" || k.Name == "night" {
		table = strings.Replace(table, k.Name+".", "", 1)
		note("#end", timeline.KeptKey{Above: []string{"# the end"}})
	}
	kept.Unknown = append(kept.Unknown, timeline.KeptPair{Key: strings.SplitN(table, "\n", 2)[0], Raw: table, Note: timeline.KeptKey{Above: someNote.Draw(t, "table").Above}})
	if k.Name == "show" {
		note("stock:schema", someNote.Draw(t, "stock"))
		note("rules:#end", timeline.KeptKey{Above: someNote.Draw(t, "rules").Above})
		kept.Unknown = append(kept.Unknown, timeline.KeptPair{Key: "rig:[[gizmo]]", Raw: "[[gizmo]]\na = 1"})
	}
	if k.Name == "song" {
		note("cues:lane-1:", someNote.Draw(t, "lane"))
		note("cues:lane-1:cues", someNote.Draw(t, "cues"))
		note("cues:gone:cues]", timeline.KeptKey{Above: someNote.Draw(t, "last").Above})
		kept.Unknown = append(kept.Unknown, timeline.KeptPair{Key: "cues:lane-1:colour", Raw: `"red"`}, timeline.KeptPair{Key: "cues:lane-1:[lane.deep]", Raw: "[lane.deep]\na = 1"})
	}
	return kept
}

func TestSavedShowLoadsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		show := drawShow(t)
		st := newMemory()
		_, err := shows.SaveTo(st, show, nil, shows.SaveOptions{})
		require.NoError(t, err)
		first := st.clone()
		l, err := shows.LoadFrom(st)
		require.NoError(t, err, first.dump())
		diff := timeline.Diff(show, l.Show)
		if len(diff) > 0 {
			t.Fatalf("%s\n%#v\n%#v\n%s", diff[0], kept(diff[0].Before), kept(diff[0].After), first.dump())
		}
		again, err := shows.SaveTo(st, l.Show, nil, shows.SaveOptions{})
		require.NoError(t, err)
		require.Empty(t, again.Written, "a second save must change no byte\n%s", first.dump())
		require.Empty(t, again.Removed)
		require.Equal(t, first.files, st.files)
	})
}

func kept(r timeline.Record) *timeline.Kept {
	if r == nil {
		return nil
	}
	return timeline.KeptOf(r)
}
