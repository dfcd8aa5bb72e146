package timeline

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// fingerprint writes everything a show holds, so that two shows are the same
// if and only if their fingerprints are.
func fingerprint(s *Show) string {
	var lines []string
	for _, k := range Kinds() {
		songs := []ID{""}
		if k.InSong {
			songs = nil
			for _, g := range s.Songs {
				songs = append(songs, g.ID)
			}
		}
		for _, song := range songs {
			for _, r := range k.List(s, song) {
				line := k.ref(song, r.RecordID()).String()
				for i := range k.Fields {
					line += fmt.Sprintf(" %q", k.Fields[i].Get(r))
				}
				lines = append(lines, fmt.Sprintf("%s %+v", line, KeptOf(r)))
			}
		}
	}
	return fmt.Sprint(lines)
}

// legal reports what is wrong with the shape of a show: an unsorted or doubled
// record would break lookups.
func legal(t require.TestingT, s *Show) {
	for _, k := range Kinds() {
		songs := []ID{""}
		if k.InSong {
			songs = songIDs(s, s)
		}
		for _, song := range songs {
			list := k.List(s, song)
			require.True(t, slices.IsSortedFunc(list, func(a, b Record) int { return compareIDs(a, b) }), k.Name)
			for i, r := range list {
				require.True(t, r.RecordID().Valid(), "%s %q", k.Name, r.RecordID())
				require.True(t, i == 0 || list[i-1].RecordID() != r.RecordID(), "%s %s stands there twice", k.Name, r.RecordID())
				require.Equal(t, r, k.Find(s, song, r.RecordID()))
			}
		}
	}
}

// valuesFor gives values worth trying for a field, good and bad.
func valuesFor(s *Show, song ID, f *Field) []Value {
	texts := []string{"", "0", "1", "0.1234", "17.3+1/2", "0:12.5", "true", "false", "hello world", "2031-05-09", "03:01:22:10",
		"cyl after=ember kg=5 minutes=2.5", "cyl after=gone out", "supply=cyl kg=3", "1.1 name=x at=2.7", "1.2 role=arm", "fire number=1 until=2031-05-09", "b2:1 misfired placed=c1 article=comet", "b2:1 misfired placed=c1 article=comet cleared-by=x", "b2:1 fired placed=c1 article=comet"}
	texts = append(texts, f.Choices...)
	for _, name := range f.Ref {
		for _, r := range KindOf(name).List(s, song) {
			texts = append(texts, string(r.RecordID()))
		}
	}
	var values []Value
	for _, x := range texts {
		if f.Type == ListField {
			values = append(values, Value{Items: []string{x}})
		} else {
			values = append(values, Value{Text: x})
		}
	}
	return append(values, Value{})
}

// randomEdit draws one edit out of all there are: set any field of any record
// to anything, add a record of any kind, remove any record.
func randomEdit(t *rapid.T, s *Show, step int) Edit {
	k := rapid.SampledFrom(Kinds()).Draw(t, "kind")
	song := ID("")
	if k.InSong {
		if len(s.Songs) == 0 {
			return func(*Draft) error { return nil }
		}
		song = rapid.SampledFrom(s.Songs).Draw(t, "song").ID
	}
	list := k.List(s, song)
	what := rapid.IntRange(0, 9).Draw(t, "what")
	if len(list) == 0 || what == 0 {
		r := k.New(ID(fmt.Sprintf("n%d", step)))
		if f := k.Field("slug"); f != nil {
			_ = f.Set(r, Value{Text: fmt.Sprintf("slug-%d", step)})
		}
		if k.Name == "show" {
			return func(*Draft) error { return nil }
		}
		return func(d *Draft) error { d.Put(song, r); return nil }
	}
	r := rapid.SampledFrom(list).Draw(t, "record")
	at := k.ref(song, r.RecordID())
	if what == 1 {
		return func(d *Draft) error { return d.Remove(at) }
	}
	f := &k.Fields[rapid.IntRange(0, len(k.Fields)-1).Draw(t, "field")]
	v := rapid.SampledFrom(valuesFor(s, song, f)).Draw(t, "value")
	return func(d *Draft) error { return d.Set(at, f.Name, v) }
}

// Random walks over every edit keep the show legal, old snapshots unchanged,
// and Diff and Apply exact both ways.
func TestRandomWalk(t *testing.T) {
	start := small(t)
	rapid.Check(t, func(t *rapid.T) {
		shows, prints := []*Show{start}, []string{fingerprint(start)}
		for step := range rapid.IntRange(1, 12).Draw(t, "steps") {
			s := shows[len(shows)-1]
			next, err := s.Edit(randomEdit(t, s, step))
			if err != nil {
				require.Nil(t, next)
				continue
			}
			legal(t, next)
			_ = Compile(next, nil).Text()
			shows, prints = append(shows, next), append(prints, fingerprint(next))
		}
		for i, s := range shows {
			require.Equal(t, prints[i], fingerprint(s), "snapshot %d changed", i)
		}
		a, b := shows[rapid.IntRange(0, len(shows)-1).Draw(t, "a")], shows[len(shows)-1]
		cs := Diff(a, b)
		there, err := Apply(a, cs)
		require.NoError(t, err)
		require.Equal(t, fingerprint(b), fingerprint(there))
		back, err := Apply(b, cs.Invert())
		require.NoError(t, err)
		require.Equal(t, fingerprint(a), fingerprint(back))
		require.Empty(t, Diff(b, there))
	})
}

func TestDiffNamesWhatChanged(t *testing.T) {
	a := small(t)
	b, err := a.Edit(set("cue", "ember", "q1", "at", "4.1"), set("article", "", "jet", "lead", "0.2"),
		func(d *Draft) error { return d.Remove(Ref{"cue", "ember", "q2"}) })
	require.NoError(t, err)
	cs := Diff(a, b)
	var lines []string
	for _, c := range cs {
		lines = append(lines, c.String())
	}
	require.Equal(t, []string{
		`changed article:jet: lead "0.1200" → "0.2000"`,
		`changed cue:ember/q1: at "3.1" → "4.1"`,
		`removed cue:ember/q2`,
	}, lines)

	_, err = Apply(b, cs)
	var conflict *ConflictError
	require.ErrorAs(t, err, &conflict, "the changes start from a, not from b")
	require.Equal(t, Ref{Kind: "article", ID: "jet"}, conflict.Change.Ref)
}

// A song comes and goes with all that lives in it.
func TestDiffOfWholeSong(t *testing.T) {
	a := small(t)
	b, err := a.Edit(func(d *Draft) error {
		return d.Set(Ref{Kind: "set", ID: "main"}, "entries", Value{Items: []string{"tide"}})
	},
		func(d *Draft) error { return d.Remove(Ref{Kind: "song", ID: "ember"}) })
	require.NoError(t, err)
	cs := Diff(a, b)
	there, err := Apply(a, cs)
	require.NoError(t, err)
	require.Equal(t, fingerprint(b), fingerprint(there))
	back, err := Apply(b, cs.Invert())
	require.NoError(t, err)
	require.Equal(t, fingerprint(a), fingerprint(back))
}

func TestDiffSeesKept(t *testing.T) {
	a := small(t)
	d := NewDraft(a)
	c := *a.Stock.Article("jet")
	c.Kept = &Kept{Above: []string{"# rented"}, Unknown: []KeptPair{{Key: "colour", Raw: `"white"`}}}
	d.Put("", &c)
	b := d.Show()
	require.Len(t, Diff(a, b), 1)
	c2 := c
	c2.Kept = &Kept{Above: []string{"# rented"}, Unknown: []KeptPair{{Key: "colour", Raw: `"white"`}}}
	d = NewDraft(b)
	d.Put("", &c2)
	require.Empty(t, Diff(b, d.Show()), "equal content is no change")
}
