package merge_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/merge"
	_ "emberbeat/timeline/testtool" // the seed of random walks
)

// touring is a show with something in every list that two people edit.
func touring(t testing.TB) *timeline.Show {
	t.Helper()
	s := testshow.Staged(t)
	set := func(r timeline.Ref, field string, items ...string) timeline.Edit {
		return func(d *timeline.Draft) error { return d.Set(r, field, timeline.Value{Items: items}) }
	}
	night := timeline.Ref{Kind: "night", ID: "n1"}
	s, err := s.Edit(
		func(d *timeline.Draft) error {
			for _, id := range []timeline.ID{"dusk", "gorse", "quay"} {
				d.Put("", &timeline.SongHead{Base: timeline.Base{ID: id}, Title: string(id), Slug: string(id), Length: timeline.Minute})
			}
			d.Put("", &timeline.Group{Base: timeline.Base{ID: "all"}, Name: "all", Members: []timeline.ID{"j1", "c1", "f1"}})
			return nil
		},
		set(timeline.Ref{Kind: "set", ID: "main"}, "entries", "ember gap=8", "tide", "dusk gap=20", "gorse", "quay encore"),
		set(night, "cuts", `family=comet reason="low roof"`, "cue=q1"),
		set(night, "swaps", "family=propane-flame to=jet"),
		set(night, "conditions", "fire watch of 30 minutes", "no flames after 22:30", "walk-through at 16:00"),
		set(night, "times", "doors 19:00", "show 21:00"))
	require.NoError(t, err)
	return s
}

func edited(t require.TestingT, s *timeline.Show, edits ...timeline.Edit) *timeline.Show {
	next, err := s.Edit(edits...)
	require.NoError(t, err)
	return next
}

func setting(ref, field string, value ...string) timeline.Edit {
	return func(d *timeline.Draft) error {
		r := refOf(ref)
		v := timeline.Value{Items: value}
		if timeline.KindOf(r.Kind).Field(field).Type != timeline.ListField {
			v = timeline.Value{Text: value[0]}
		}
		return d.Set(r, field, v)
	}
}

func removing(ref string) timeline.Edit {
	return func(d *timeline.Draft) error { return d.Remove(refOf(ref)) }
}

func adding(song timeline.ID, r timeline.Record) timeline.Edit {
	return func(d *timeline.Draft) error { d.Put(song, r); return nil }
}

// refOf reads kind:id or kind:song/id.
func refOf(text string) timeline.Ref {
	kind, id, _ := strings.Cut(text, ":")
	if song, in, ok := strings.Cut(id, "/"); ok {
		return timeline.Ref{Kind: kind, Song: timeline.ID(song), ID: timeline.ID(in)}
	}
	return timeline.Ref{Kind: kind, ID: timeline.ID(id)}
}

func values(s *timeline.Show, ref, field string) []string {
	r := refOf(ref)
	k := timeline.KindOf(r.Kind)
	v := k.Field(field).Get(k.Find(s, r.Song, r.ID))
	if k.Field(field).Type == timeline.ListField {
		return v.Items
	}
	return []string{v.Text}
}

func joined(t require.TestingT, base, ours, theirs *timeline.Show) *merge.Result {
	r, err := merge.Shows(base, ours, theirs)
	require.NoError(t, err)
	return r
}

// What two people did to different things is done, in either order, and nothing is
// asked.
func TestDifferentThingsAreNoConflict(t *testing.T) {
	base := touring(t)
	cue := func(id timeline.ID, at int) timeline.Record {
		return &timeline.Cue{Base: timeline.Base{ID: id}, Lane: "ljet", At: timeline.AtTime(timeline.Time(at) * timeline.Second)}
	}
	for name, c := range map[string]struct {
		ours, theirs []timeline.Edit
		ref, field   string
		want         []string
	}{
		"two fields of a record": {[]timeline.Edit{setting("article:jet", "lead", "0.2")}, []timeline.Edit{setting("article:jet", "open", "0.7")}, "article:jet", "lead", []string{"0.2000"}},
		"new cues on one lane":   {[]timeline.Edit{adding("ember", cue("x1", 30))}, []timeline.Edit{adding("ember", cue("x2", 31))}, "cue:ember/x2", "at", []string{"0:31.0000s"}},
		"a song moved, another too": {[]timeline.Edit{setting("set:main", "entries", "tide", "dusk gap=20", "ember gap=8", "gorse", "quay encore")},
			[]timeline.Edit{setting("set:main", "entries", "quay encore", "ember gap=8", "tide", "dusk gap=20", "gorse")}, "set:main", "entries", []string{"quay encore", "tide", "dusk gap=20", "ember gap=8", "gorse"}},
		"a song moved, its gap changed": {[]timeline.Edit{setting("set:main", "entries", "tide", "dusk gap=20", "ember gap=8", "gorse", "quay encore")},
			[]timeline.Edit{setting("set:main", "entries", "ember gap=12", "tide", "dusk gap=20", "gorse", "quay encore")}, "set:main", "entries", []string{"tide", "dusk gap=20", "ember gap=12", "gorse", "quay encore"}},
		"two words of an item": {[]timeline.Edit{setting("set:main", "entries", "ember gap=8", "tide encore", "dusk gap=20", "gorse", "quay encore")},
			[]timeline.Edit{setting("set:main", "entries", "ember gap=8", `tide talk="good night"`, "dusk gap=20", "gorse", "quay encore")}, "set:main", "entries",
			[]string{"ember gap=8", `tide talk="good night" encore`, "dusk gap=20", "gorse", "quay encore"}},
		"cuts of both": {[]timeline.Edit{setting("night:n1", "cuts", `family=comet reason="low roof"`, "cue=q1", "cue=q2")}, []timeline.Edit{setting("night:n1", "cuts", `family=comet reason="low roof"`, "cue=q1", "cue=q3")},
			"night:n1", "cuts", []string{`family=comet reason="low roof"`, "cue=q1", "cue=q2", "cue=q3"}},
		"one takes out, the other adds": {[]timeline.Edit{setting("night:n1", "cuts", "cue=q1")}, []timeline.Edit{setting("night:n1", "cuts", `family=comet reason="low roof"`, "cue=q1", "cue=q3")},
			"night:n1", "cuts", []string{"cue=q1", "cue=q3"}},
		"anchors of the beat map": {[]timeline.Edit{setting("song:ember", "beats", "1.1 at=0 metre=4/4", "9.1 at=16.1", "31.1 at=60")}, []timeline.Edit{setting("song:ember", "beats", "1.1 at=0 metre=4/4", "5.1 at=8.1", "31.1 at=60")},
			"song:ember", "beats", []string{"1.1 at=0.000000000 metre=4/4", "5.1 at=8.100000000", "9.1 at=16.100000000", "31.1 at=60.000000000"}},
	} {
		ours, theirs := edited(t, base, c.ours...), edited(t, base, c.theirs...)
		for _, r := range []*merge.Result{joined(t, base, ours, theirs), joined(t, base, theirs, ours)} {
			require.Empty(t, r.Conflicts, name)
			require.Equal(t, norm(c.want), norm(values(r.Show, c.ref, c.field)), name)
		}
	}
}

// norm writes numbers in items as short as can be.
func norm(items []string) []string {
	out := make([]string, len(items))
	for i, s := range items {
		var words []string
		for _, w := range strings.Fields(s) {
			if strings.Contains(w, ".") && !strings.Contains(w, `"`) {
				w = strings.TrimRight(strings.TrimRight(strings.TrimSuffix(w, "s"), "0"), ".")
			}
			words = append(words, w)
		}
		slices.Sort(words)
		out[i] = strings.Join(words, " ")
	}
	return out
}

// Each way to disagree is one conflict with its choices, and each choice does what
// it says.
func TestConflictsAreChoices(t *testing.T) {
	base := touring(t)
	spare := &timeline.Article{Base: timeline.Base{ID: "spare"}, Name: "spare", Family: timeline.CO2Jet}
	base = edited(t, base, adding("", spare))
	for name, c := range map[string]struct {
		ours, theirs []timeline.Edit
		key          string
		why          merge.Why
		held         merge.Side
		ref, field   string
		want         map[merge.Side]string // "-" = the record is gone
	}{
		"a value": {[]timeline.Edit{setting("article:jet", "lead", "0.2")}, []timeline.Edit{setting("article:jet", "lead", "0.3")}, "article:jet lead", merge.Value, merge.Ours,
			"article:jet", "lead", map[merge.Side]string{merge.Ours: "0.2000", merge.Theirs: "0.3000", merge.Base: "0.1200"}},
		"an output is one thing": {[]timeline.Edit{setting("wire:w1", "output", "4")}, []timeline.Edit{setting("wire:w1", "unit", "b2")}, "wire:w1 unit,output", merge.Value, merge.Ours,
			"wire:w1", "output", map[merge.Side]string{merge.Ours: "4", merge.Theirs: "3", merge.Base: "3"}},
		"a note can be both": {[]timeline.Edit{setting("article:jet", "note", "a")}, []timeline.Edit{setting("article:jet", "note", "b")}, "article:jet note", merge.Value, merge.Ours,
			"article:jet", "note", map[merge.Side]string{merge.Ours: "a", merge.Theirs: "b", merge.Base: "", merge.Both: "a; b"}},
		"removed against changed": {[]timeline.Edit{removing("cue:ember/q1")}, []timeline.Edit{setting("cue:ember/q1", "at", "4.1")}, "cue:ember/q1", merge.Removed, merge.Theirs,
			"cue:ember/q1", "at", map[merge.Side]string{merge.Ours: "-", merge.Theirs: "4.1"}},
		"a song removed against a cue in it": {[]timeline.Edit{setting("cue:tide/q1", "at", "4s")}, []timeline.Edit{removing("song:tide"), setting("set:main", "entries", "ember gap=8", "dusk gap=20", "gorse", "quay encore")},
			"song:tide", merge.Removed, merge.Ours, "cue:tide/q1", "at", map[merge.Side]string{merge.Ours: "0:04.0000s", merge.Theirs: "-"}},
		"both added one id": {[]timeline.Edit{adding("ember", &timeline.Cue{Base: timeline.Base{ID: "new"}, Lane: "ljet", At: timeline.AtTime(timeline.Second)})},
			[]timeline.Edit{adding("ember", &timeline.Cue{Base: timeline.Base{ID: "new"}, Lane: "lcom", At: timeline.AtTime(2 * timeline.Second)})},
			"cue:ember/new", merge.Added, merge.Ours, "cue:ember/new", "at", map[merge.Side]string{merge.Ours: "0:01.0000s", merge.Theirs: "0:02.0000s", merge.Base: "-", merge.Both: "0:01.0000s"}},
		"removed, and used by the other": {[]timeline.Edit{removing("article:spare")}, []timeline.Edit{adding("", &timeline.Placed{Base: timeline.Base{ID: "p9"}, Name: "p9", Article: "spare"}), setting("group:all", "members", "j1", "c1", "f1", "p9")},
			"article:spare", merge.Used, merge.Theirs, "placed:p9", "article", map[merge.Side]string{merge.Ours: "-", merge.Theirs: "spare"}},
		"one item, two ways": {[]timeline.Edit{setting("night:n1", "swaps", "family=propane-flame to=comet")}, []timeline.Edit{setting("night:n1", "swaps", "family=propane-flame to=flame")}, "night:n1 swaps family=propane-flame", merge.Item, merge.Ours,
			"night:n1", "swaps", map[merge.Side]string{merge.Ours: "family=propane-flame to=comet", merge.Theirs: "family=propane-flame to=flame", merge.Base: "family=propane-flame to=jet", merge.Both: "family=propane-flame to=comet|family=propane-flame to=flame"}},
		"an item taken out and changed": {[]timeline.Edit{setting("night:n1", "swaps")}, []timeline.Edit{setting("night:n1", "swaps", "family=propane-flame to=flame")}, "night:n1 swaps family=propane-flame", merge.Removed, merge.Theirs,
			"night:n1", "swaps", map[merge.Side]string{merge.Ours: "", merge.Theirs: "family=propane-flame to=flame", merge.Base: "family=propane-flame to=jet"}},
		"one free text, two ways": {[]timeline.Edit{setting("night:n1", "times", "doors 18:30", "show 21:00")}, []timeline.Edit{setting("night:n1", "times", "doors 18:45", "show 21:00")}, "night:n1 times doors", merge.Item, merge.Ours,
			"night:n1", "times", map[merge.Side]string{merge.Ours: "doors 18:30|show 21:00", merge.Theirs: "doors 18:45|show 21:00", merge.Base: "doors 19:00|show 21:00", merge.Both: "doors 18:30|show 21:00|doors 18:45"}},
		"a song moved to two places": {[]timeline.Edit{setting("set:main", "entries", "ember gap=8", "tide", "gorse", "quay encore", "dusk gap=20")}, []timeline.Edit{setting("set:main", "entries", "dusk gap=20", "ember gap=8", "tide", "gorse", "quay encore")},
			"set:main entries dusk", merge.Order, merge.Ours, "set:main", "entries", map[merge.Side]string{merge.Ours: "ember gap=8|tide|gorse|quay encore|dusk gap=20", merge.Theirs: "dusk gap=20|ember gap=8|tide|gorse|quay encore",
				merge.Base: "ember gap=8|tide|dusk gap=20|gorse|quay encore"}},
	} {
		r := joined(t, base, edited(t, base, c.ours...), edited(t, base, c.theirs...))
		require.Len(t, r.Conflicts, 1, name)
		x := r.Conflicts[0]
		require.Equal(t, c.key, x.Key(), name)
		require.Equal(t, c.why, x.Why, name)
		require.Equal(t, c.held, x.Held, name)
		require.Len(t, x.Choices(), len(c.want), name)
		kept := merge.WithOpen(r.Show, r.Conflicts)
		for side, want := range c.want {
			for _, from := range []*timeline.Show{r.Show, kept} {
				open, err := merge.Open(from)
				require.NoError(t, err)
				if from == kept {
					require.Len(t, open, 1)
					require.Equal(t, x.Says, open[0].Says, name)
					x = open[0]
				}
				edit, err := x.Settle(side)
				require.NoError(t, err, "%s %s", name, side)
				done, err := from.Edit(edit)
				require.NoError(t, err, "%s %s", name, side)
				left, err := merge.Open(done)
				require.NoError(t, err)
				require.Empty(t, left, name)
				ref := refOf(c.ref)
				if want == "-" {
					require.Nil(t, timeline.KindOf(ref.Kind).Find(done, ref.Song, ref.ID), "%s %s", name, side)
					continue
				}
				got := strings.Join(values(done, c.ref, c.field), "|")
				require.Equal(t, strings.Join(norm(strings.Split(want, "|")), "|"), strings.Join(norm(strings.Split(got, "|")), "|"), "%s %s", name, side)
			}
		}
		_, err := x.Settle("mine")
		require.ErrorContains(t, err, "is no choice here; choose ", name)
	}
}

// The second of two records of one id takes what its own side aims at it along.
func TestBothKeepsWhatAimsAtEach(t *testing.T) {
	base := touring(t)
	place := func(name string, height float64, id timeline.ID) []timeline.Edit {
		return []timeline.Edit{adding("", &timeline.Article{Base: timeline.Base{ID: "mine"}, Name: name, Family: timeline.Comet, HitPoint: timeline.FirstLight, Control: timeline.IgniterControl, Height: height}),
			adding("", &timeline.Placed{Base: timeline.Base{ID: id}, Name: string(id), Article: "mine"})}
	}
	r := joined(t, base, edited(t, base, place("low", 4, "p1")...), edited(t, base, place("high", 40, "p2")...))
	require.Len(t, r.Conflicts, 1)
	edit, err := r.Conflicts[0].Settle(merge.Both)
	require.NoError(t, err)
	s := edited(t, r.Show, edit)
	require.Equal(t, "low", s.Stock.Article(s.Rig.PlacedEffect("p1").Article).Name)
	require.Equal(t, "high", s.Stock.Article(s.Rig.PlacedEffect("p2").Article).Name)
}

// Comments and keys that the program does not know stay from both sides.
func TestCommentsAndUnknownKeysOfBothStay(t *testing.T) {
	base := touring(t)
	with := func(s *timeline.Show, k *timeline.Kept, lead string) *timeline.Show {
		return edited(t, s, func(d *timeline.Draft) error {
			a := *d.Show().Stock.Article("jet")
			a.Kept = k
			d.Put("", &a)
			if lead == "" {
				return nil
			}
			return d.Set(refOf("article:jet"), "lead", timeline.Value{Text: lead})
		})
	}
	key := func(k, raw string) timeline.KeptPair { return timeline.KeptPair{Key: k, Raw: raw} }
	base = with(base, &timeline.Kept{Above: []string{"# base"}, Unknown: []timeline.KeptPair{key("a", "1"), key("b", "1"), key("c", "1")}}, "")
	ours := with(base, &timeline.Kept{Above: []string{"# base", "# ours"}, Beside: "# o", Unknown: []timeline.KeptPair{key("a", "2"), key("b", "1"), key("x", "9")}, Keys: map[string]timeline.KeptKey{"lead": {Beside: "# measured"}}}, "")
	theirs := with(base, &timeline.Kept{Above: []string{"# base", "# theirs"}, Beside: "# t", Unknown: []timeline.KeptPair{key("a", "1"), key("b", "3"), key("c", "1"), key("y", "8")}}, "0.3")
	r := joined(t, base, ours, theirs)
	require.Empty(t, r.Conflicts)
	k := timeline.KeptOf(r.Show.Stock.Article("jet"))
	require.Equal(t, []string{"# base", "# ours", "# theirs", "# t"}, k.Above)
	require.Equal(t, "# o", k.Beside)
	require.Equal(t, "# measured", k.Keys["lead"].Beside)
	require.ElementsMatch(t, []timeline.KeptPair{key("a", "2"), key("b", "3"), key("x", "9"), key("y", "8")}, k.Unknown)

	theirs = with(base, &timeline.Kept{Unknown: []timeline.KeptPair{key("a", "7"), key("b", "1"), key("c", "1")}}, "")
	r = joined(t, base, ours, theirs)
	require.Len(t, r.Conflicts, 1)
	require.Equal(t, merge.Unknown, r.Conflicts[0].Why)
	edit, err := r.Conflicts[0].Settle(merge.Theirs)
	require.NoError(t, err)
	require.Contains(t, timeline.KeptOf(edited(t, r.Show, edit).Stock.Article("jet")).Unknown, key("a", "7"))
}

// Two songs that both call the same on disk are stored under two names.
func TestNamesOnDiskAreApart(t *testing.T) {
	base := touring(t)
	song := func(id timeline.ID) timeline.Edit {
		return adding("", &timeline.SongHead{Base: timeline.Base{ID: id}, Title: "New", Slug: "new", Length: timeline.Minute})
	}
	a, b := edited(t, base, song("k1")), edited(t, base, song("k2"))
	for _, r := range []*merge.Result{joined(t, base, a, b), joined(t, base, b, a)} {
		require.Empty(t, r.Conflicts)
		require.Equal(t, "new", r.Show.Song("k1").Slug)
		require.Equal(t, "new-2", r.Show.Song("k2").Slug)
		require.Equal(t, []string{"song:k2 is stored as new-2, for both named something new"}, r.Notes)
	}
}

func TestOtherShowsAreRefused(t *testing.T) {
	base := touring(t)
	_, err := merge.Shows(base, base, timeline.NewShow("another", "Another Tour", timeline.Rate25))
	require.ErrorIs(t, err, merge.ErrOther)
	require.ErrorContains(t, err, `"Another Tour" (another)`)
}

// A conflict's table that somebody has broken is told, and the others still open.
func TestBrokenConflictIsTold(t *testing.T) {
	base := touring(t)
	s := merge.WithOpen(base, []merge.Conflict{{Ref: refOf("article:jet"), Why: merge.Value, Options: []merge.Option{{Side: merge.Ours}}, Says: map[merge.Side]string{merge.Ours: "it's\ttabbed"}}})
	h := *s.Head
	k := *h.Kept
	k.Unknown = append([]timeline.KeptPair{{Key: merge.Table, Raw: merge.Table + "\nkind = 'comet'"}}, k.Unknown...)
	h.Kept = &k
	list, err := merge.Open(edited(t, s, adding("", &h)))
	require.ErrorContains(t, err, "a table [[conflict]] of show: it does not say what it is about")
	require.Len(t, list, 1)
	require.Equal(t, "it's\ttabbed", list[0].Says[merge.Ours])
}

// near are records that two people like to edit both.
var near = []string{"set:main", "night:n1", "cue:ember/q1", "cue:ember/q2", "lane:ember/ljet", "article:jet", "placed:j1", "wire:w1", "song:ember", "song:tide", "group:all", "venue:v1", "device:d1", "show:show1"}

// walkedAlone draws the edits of one person, most of them of records of a few.
func walkedAlone(t *rapid.T, s *timeline.Show, who string, few []string) *timeline.Show {
	for step := range rapid.IntRange(1, 10).Draw(t, who+" steps") {
		at := ""
		if rapid.IntRange(0, 3).Draw(t, "near") > 0 {
			at = rapid.SampledFrom(few).Draw(t, "which")
		}
		if next, err := s.Edit(drawEdit(t, s, fmt.Sprint(who, step), at)); err == nil {
			s = next
		}
	}
	return s
}

// drawEdit draws one edit out of those that there are.
func drawEdit(t *rapid.T, s *timeline.Show, name, near string) timeline.Edit {
	kinds := timeline.Kinds()
	k := kinds[rapid.IntRange(0, len(kinds)-1).Draw(t, "kind")]
	song := timeline.ID("")
	if k.InSong {
		song = s.Songs[rapid.IntRange(0, len(s.Songs)-1).Draw(t, "song")].ID
	}
	list := k.List(s, song)
	if near != "" {
		r := refOf(near)
		k, song = timeline.KindOf(r.Kind), r.Song
		if rec := k.Find(s, r.Song, r.ID); rec != nil {
			list = []timeline.Record{rec}
		} else if k.InSong && s.Song(song) == nil {
			return func(*timeline.Draft) error { return nil }
		} else {
			list = k.List(s, song)
		}
	}
	what := rapid.IntRange(0, 9).Draw(t, "what")
	if (what == 0 || len(list) == 0) && k.Name != "show" {
		id := timeline.ID(name)
		if rapid.IntRange(0, 3).Draw(t, "alike") == 0 {
			id = "alike"
		}
		r := k.New(id)
		if f := k.Field("slug"); f != nil {
			_ = f.Set(r, timeline.Value{Text: rapid.SampledFrom([]string{"one", "two", string(id)}).Draw(t, "slug")})
		}
		for range 3 {
			f := &k.Fields[rapid.IntRange(0, len(k.Fields)-1).Draw(t, "field")]
			if f.Name != "slug" {
				_ = f.Set(r, drawValue(t, s, song, k, f, timeline.Value{}))
			}
		}
		return adding(song, r)
	}
	r := list[rapid.IntRange(0, len(list)-1).Draw(t, "record")]
	at := timeline.Ref{Kind: k.Name, Song: song, ID: r.RecordID()}
	if what == 1 {
		return func(d *timeline.Draft) error { return d.Remove(at) }
	}
	if what == 2 {
		c := k.Clone(r)
		timeline.SetKept(c, &timeline.Kept{Above: []string{"# " + name}, Unknown: []timeline.KeptPair{{Key: "x" + rapid.SampledFrom([]string{"", name}).Draw(t, "key"), Raw: "1"}}})
		return adding(song, c)
	}
	f := &k.Fields[rapid.IntRange(0, len(k.Fields)-1).Draw(t, "field")]
	if f.Name == "placed-on" {
		return func(*timeline.Draft) error { return nil } // edits keep it themselves
	}
	v := drawValue(t, s, song, k, f, f.Get(r))
	return func(d *timeline.Draft) error { return d.Set(at, f.Name, v) }
}

var listItems = map[string][]string{
	"entries": {"ember gap=8", "ember gap=12", "ember encore", "tide", "dusk", "dusk gap=1", "gorse", "quay"}, "cuts": {"cue=q1", "cue=q2", "cue=q1 reason=wet", "family=comet"},
	"swaps": {"family=comet to=jet", "family=comet to=flame", "article=jet to=comet"}, "beats": {"1.1 at=0 metre=4/4", "5.1 at=8", "5.1 at=8.5", "9.1 at=17", "31.1 at=60"},
	"shifts": {"song=ember by=0.5", "song=ember by=1", "song=tide by=0.1"}, "fills": {"supply=co2 kg=1", "supply=co2 kg=2"}, "outcomes": {"b2:1 fired placed=c1 article=comet", "b2:1 misfired placed=c1 article=comet"},
	"rig-changes": {"bank=b1 out why=wet", "bank=b1 out", "placed=j1 out"}, "accepted": {"rule=recovery record=cue:ember/q1 by=x", "rule=recovery record=cue:ember/q2 by=x", "rule=recovery record=cue:ember/q1 by=y"},
	"starts": {"1.1", "1.45", "2.1"}, "audience": {"front from=-12,-3 to=12,-3", "front from=-9,-3 to=9,-3"},
}

func drawValue(t *rapid.T, s *timeline.Show, song timeline.ID, k *timeline.Kind, f *timeline.Field, was timeline.Value) timeline.Value {
	texts := []string{"", "1", "2", "0.5", "3.1", "4.2", "true", "hello there", "2031-05-09", "03:01:22:10", "one"}
	texts = append(texts, f.Choices...)
	for _, name := range f.Ref {
		for _, r := range timeline.KindOf(name).List(s, song) {
			texts = append(texts, string(r.RecordID()))
		}
	}
	if f.Type != timeline.ListField {
		return timeline.Value{Text: rapid.SampledFrom(texts).Draw(t, "text")}
	}
	if items := listItems[f.Name]; items != nil {
		texts = items
	}
	items := slices.Clone(was.Items)
	at := func(n int) int { return rapid.IntRange(0, n).Draw(t, "at") }
	switch n := len(items); rapid.IntRange(0, 3).Draw(t, "do") {
	case 0:
		if n > 0 {
			items = slices.Delete(items, n-1, n)
		}
	case 1:
		if n > 1 {
			i, to := at(n-1), at(n-1)
			x := items[i]
			items = slices.Insert(slices.Delete(items, i, i+1), to, x)
		}
	case 2:
		if n > 0 {
			items[at(n-1)] = rapid.SampledFrom(texts).Draw(t, "item")
		}
	default:
		items = slices.Insert(items, at(n), rapid.SampledFrom(texts).Draw(t, "item"))
	}
	return timeline.Value{Items: items}
}

// Two people edit a show at random. Whoever is called ours: the same comes out, up
// to the sides of conflicts; no edit of either is lost without a conflict that names
// it; nothing in the show leads nowhere that did not before; and a merge with
// nothing, or of the same, changes nothing.
func TestRandomEditsOfTwo(t *testing.T) {
	base := touring(t)
	merges, asked, apart := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		few := rapid.SliceOfN(rapid.SampledFrom(near), 1, 3).Draw(t, "few")
		a, b := walkedAlone(t, base, "a", few), walkedAlone(t, base, "b", few)
		for _, c := range []struct{ base, ours, theirs, want *timeline.Show }{{base, a, a, a}, {base, base, b, b}, {base, a, base, a}, {a, a, a, a}} {
			r := joined(t, c.base, c.ours, c.theirs)
			require.Empty(t, r.Conflicts)
			require.Empty(t, timeline.Diff(c.want, r.Show))
		}
		ab, ba := joined(t, base, a, b), joined(t, base, b, a)
		merges++
		sound(t, ab.Show, a, b)
		nothingLost(t, base, a, ab)
		nothingLost(t, base, b, ab)
		for i := range ab.Conflicts {
			asked++
			if changedApart(base, a, b, &ab.Conflicts[i]) {
				apart++
			}
		}
		require.ElementsMatch(t, keys(ab), keys(ba))
		for _, side := range []merge.Side{merge.Ours, merge.Theirs, merge.Base} {
			x, errX := settled(ab, side)
			y, errY := settled(ba, swapped(side))
			require.Equal(t, errX == nil, errY == nil, "%v %v", errX, errY)
			if errX == nil {
				require.Empty(t, timeline.Diff(unplaced(x), unplaced(y)), side)
				sound(t, x, a, b)
			}
		}
		stored := merge.WithOpen(ab.Show, ab.Conflicts)
		open, err := merge.Open(stored)
		require.NoError(t, err)
		require.Len(t, open, len(ab.Conflicts))
	})
	t.Logf("%d merges, %d conflicts, of which %d about fields that only one of the two changed", merges, asked, apart)
	require.Zero(t, apart, "a conflict about what only one has changed")
	require.Positive(t, asked)
}

// unplaced gives a show without what edits note by themselves as they come: the
// recording that cues were placed against, which is another one where the last cue
// goes before the recording changes. Which of two has a number behind its name on
// disk hangs on the order of choices as well.
func unplaced(s *timeline.Show) *timeline.Show {
	d := timeline.NewDraft(s)
	for _, g := range s.Songs {
		h := g.SongHead
		h.Audio.PlacedOn, h.Slug = "", ""
		d.Put("", &h)
	}
	for _, n := range s.Nights {
		c := *n
		c.Slug = ""
		d.Put("", &c)
	}
	for _, v := range s.Venues {
		c := *v
		c.Slug = ""
		d.Put("", &c)
	}
	return d.Show()
}

func keys(r *merge.Result) []string {
	var list []string
	for i := range r.Conflicts {
		list = append(list, string(r.Conflicts[i].Why)+" "+r.Conflicts[i].Key())
	}
	return list
}

func swapped(s merge.Side) merge.Side {
	switch s {
	case merge.Ours:
		return merge.Theirs
	case merge.Theirs:
		return merge.Ours
	}
	return s
}

// settled makes one choice in all conflicts that offer it.
func settled(r *merge.Result, side merge.Side) (*timeline.Show, error) {
	s := r.Show
	for i := range r.Conflicts {
		if r.Conflicts[i].Option(side) == nil {
			continue
		}
		edit, err := r.Conflicts[i].Settle(side)
		if err != nil {
			return nil, err
		}
		if s, err = s.Edit(edit); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// sound checks what every show must be.
func sound(t require.TestingT, s, a, b *timeline.Show) {
	for _, k := range timeline.Kinds() {
		songs := []timeline.ID{""}
		if k.InSong {
			songs = nil
			for _, g := range s.Songs {
				songs = append(songs, g.ID)
			}
		}
		slugs := map[string]bool{}
		for _, song := range songs {
			last := timeline.ID("")
			for _, r := range k.List(s, song) {
				require.Less(t, string(last), string(r.RecordID()))
				last = r.RecordID()
				if f := k.Field("slug"); f != nil {
					require.False(t, slugs[f.Get(r).Text], "%s is the name of two", f.Get(r).Text)
					slugs[f.Get(r).Text] = true
				}
				for i := range k.Fields {
					f := &k.Fields[i]
					for _, id := range named(f, f.Get(r)) {
						if len(f.Ref) > 0 && !there(s, f.Ref, song, id) {
							require.True(t, leadsNowhere(a, k, f, song, r.RecordID(), id) || leadsNowhere(b, k, f, song, r.RecordID(), id), "%s:%s %s names %s", k.Name, r.RecordID(), f.Name, id)
						}
					}
				}
			}
		}
	}
}

func named(f *timeline.Field, v timeline.Value) []timeline.ID {
	items := v.Items
	if f.Type != timeline.ListField && v.Text != "" {
		items = []string{v.Text}
	}
	var ids []timeline.ID
	for _, x := range items {
		head, _, _ := strings.Cut(x, " ")
		ids = append(ids, timeline.ID(head))
	}
	return ids
}

func there(s *timeline.Show, kinds []string, song, id timeline.ID) bool {
	return slices.ContainsFunc(kinds, func(k string) bool { return timeline.KindOf(k).Find(s, song, id) != nil })
}

func leadsNowhere(s *timeline.Show, k *timeline.Kind, f *timeline.Field, song, id, to timeline.ID) bool {
	r := k.Find(s, song, id)
	return r != nil && slices.Contains(named(f, f.Get(r)), to) && !there(s, f.Ref, song, to)
}

// nothingLost checks that what one did is in the merged show, or in a conflict
// about it.
func nothingLost(t require.TestingT, base, one *timeline.Show, r *merge.Result) {
	about := func(ref timeline.Ref, field string) bool {
		return slices.ContainsFunc(r.Conflicts, func(c merge.Conflict) bool {
			return c.Ref == ref && (field == "" || len(c.Fields) == 0 || slices.Contains(c.Fields, field)) || c.Ref.Kind == "song" && len(c.Fields) == 0 && c.Ref.ID == ref.Song
		})
	}
	for _, c := range timeline.Diff(base, one) {
		k := timeline.KindOf(c.Ref.Kind)
		is := k.Find(r.Show, c.Ref.Song, c.Ref.ID)
		if c.After == nil {
			require.True(t, is == nil || about(c.Ref, ""), "%s came back", c.Ref)
			continue
		}
		if is == nil {
			require.True(t, about(c.Ref, ""), "%s is lost", c.Ref)
			continue
		}
		for _, fc := range c.Fields() {
			f := k.Field(fc.Field)
			got := f.Get(is)
			if got.Equal(fc.After) || about(c.Ref, fc.Field) || fc.Field == "slug" {
				continue
			}
			require.Equal(t, timeline.ListField, f.Type, "%s %s: %q became %q", c.Ref, fc.Field, fc.After, got)
			for _, item := range fc.After.Items {
				if !slices.Contains(fc.Before.Items, item) {
					require.True(t, slices.ContainsFunc(got.Items, func(x string) bool { return containsWords(x, item, fc.Before.Items) }), "%s %s: %q is lost in %q", c.Ref, fc.Field, item, got.Items)
				}
			}
		}
		if kept := timeline.KeptOf(c.After); kept != nil {
			for _, line := range kept.Above {
				require.Contains(t, timeline.KeptOf(is).Above, line)
			}
		}
	}
}

// containsWords reports whether an item has the words of another that none of the
// items before it had.
func containsWords(got, item string, before []string) bool {
	old := strings.Fields(strings.Join(before, " "))
	for _, w := range strings.Fields(item) {
		if !slices.Contains(old, w) && !slices.Contains(strings.Fields(got), w) {
			return false
		}
	}
	return true
}

// changedApart reports whether a conflict is about fields of a record of which each
// was changed by one of the two alone.
func changedApart(base, a, b *timeline.Show, c *merge.Conflict) bool {
	if len(c.Fields) == 0 || c.Why == merge.Unknown {
		return false
	}
	k := timeline.KindOf(c.Ref.Kind)
	differs := func(s *timeline.Show) bool {
		was, is := k.Find(base, c.Ref.Song, c.Ref.ID), k.Find(s, c.Ref.Song, c.Ref.ID)
		return slices.ContainsFunc(c.Fields, func(name string) bool {
			f := k.Field(name)
			v := f.Default
			if was != nil {
				v = f.Get(was)
			}
			return is == nil || !f.Get(is).Equal(v)
		})
	}
	return !differs(a) || !differs(b)
}
