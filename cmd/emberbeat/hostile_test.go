package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/audio/testsound"
	"emberbeat/shows"
	"emberbeat/shows/example"
	"emberbeat/shows/intake"
	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/operation"
)

// unprintable are texts that no file could keep, or that read otherwise than
// they are.
var unprintable = []string{"a\nb", "a\rb", "a\x00b", "a\x1b[31mb", "a\x7fb", "a\u0085b", "a\u009bb", "a\u202eb", "a\u2066b", "a\u200fb", "a\u2028b"}

// Every verb that takes a text refuses one that cannot be kept, as a mistake in
// what was typed, and the show is as it was.
func TestVerbsRefuseTextThatNoShowKeeps(t *testing.T) {
	inExampleFolder(t, true)
	before, err := shows.Load("tour")
	require.NoError(t, err)
	for _, bad := range unprintable {
		for _, args := range [][]string{
			{"place", "tour", "--song", "1", "--lane", "Sparks", "--at", "3.1", "--note", bad},
			{"place", "tour", "--song", "1", "--lane", bad, "--target", "Jet 1", "--at", "3.1"},
			{"phrase", "tour", "--song", "1", "--lane", bad, "--group", "all comets", "--at", "3.1", "--until", "4.1", "--every", "1", "--shape", "chase"},
			{"group", "tour", bad, "Jet 1", "Jet 2"},
			{"patch", "tour", "add", "flame-head", "--name", bad},
			{"new", "other", "--title", bad},
			{"new", "other", "--title", bad, "--stock", "none"},
			{"new", bad + "dir"},
			{"add", "tour", "song.wav", "--title", bad},
			{"edit", "tour", "show", "title=" + bad},
			{"edit", "tour", "--add", "group", "name=" + bad},
		} {
			if strings.Contains(bad, "\x00") && args[0] == "new" && strings.Contains(args[1], bad) {
				continue // no system takes it as an argument
			}
			var out, errs strings.Builder
			require.Equal(t, exitUsage, run(args, nil, &out, &errs), "%q: %s", args, errs.String())
			require.Regexp(t, "holds (a control character|a line break|a mark that turns)", errs.String(), "%q", args)
			require.NoDirExists(t, "other", "%q", args)
		}
	}
	after, err := shows.Load("tour")
	require.NoError(t, err)
	require.Empty(t, timeline.Diff(before.Show, after.Show))
}

// A recording may be called as it likes: its name is cleaned for the title and
// for the copy.
func TestAddTakesARecordingOfAnyName(t *testing.T) {
	inExampleFolder(t, true)
	for i, bad := range []string{"a\nb.wav", "a\x1bb.wav", "a\u202eb.wav", "a\u0085b.wav"} {
		require.NoError(t, testsound.WriteWAV16(bad, clickRate, 1, clickTrack(5+i, 120)))
		require.Zero(t, runIn(t, "add", "tour", bad), "%q", bad)
		l, err := shows.Load("tour")
		require.NoError(t, err, "%q", bad)
		song := l.Show.Songs[slices.IndexFunc(l.Show.Songs, func(g *timeline.Song) bool { return g.Audio.Frames == int64((5+i)*clickRate) })]
		require.NoError(t, field.Plain(song.Title+song.Audio.Path))
		require.FileExists(t, filepath.Join("tour", song.Audio.Path))
	}
}

// textOrSo are texts of which something is right, and those of which nothing is.
var textOrSo = rapid.OneOf(
	rapid.SampledFrom([]string{"1", "2", "0.5", "9.1", "10.1", "20:00", "22:30", "2031-05-09", "01:00:00:00", "1.1", "3.17", "alternate", "chase", "beat", "family=comet", "0,3", "x"}),
	rapid.SampledFrom(unprintable),
	rapid.StringOfN(rapid.RuneFrom([]rune(" ab;=\"'\\#\n\r\t\x00\x1b\u0085\u202e\u2028é")), 0, 8, -1),
)

// exampleShow is the example, without its recordings.
func exampleShow(t testing.TB) *timeline.Show {
	l, err := shows.LoadFrom(shows.FS(example.FS()))
	require.NoError(t, err)
	return l.Show
}

// requireLoads saves a show, and it must load as it was; what is in it and not in
// the show before must be printable.
func requireLoads(t require.TestingT, dir string, before, show *timeline.Show) {
	for _, c := range timeline.Diff(before, show) {
		k := timeline.KindOf(c.Ref.Kind)
		for i := range k.Fields {
			if c.After != nil {
				require.NoError(t, field.Plain(k.Fields[i].Get(c.After).String()), "%s %s", c.Ref, k.Fields[i].Name)
			}
		}
	}
	_, err := shows.SaveTo(shows.OS(dir), show, nil, shows.SaveOptions{})
	require.NoError(t, err)
	l, err := shows.Load(dir)
	require.NoError(t, err)
	require.Empty(t, timeline.Diff(show, l.Show))
}

// Whatever is given to an operation as its arguments is refused, or leaves a
// show that loads again.
func TestAnyTextInAnyOperationLeavesAShowThatLoads(t *testing.T) {
	show, dir := exampleShow(t), t.TempDir()
	plan := timeline.Compile(show, nil)
	made := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		o := rapid.SampledFrom(operation.All()).Draw(t, "operation")
		at := operation.At{Plan: plan, On: drawOn(t, show, o.On),
			NewID: func(kind string, song timeline.ID) timeline.ID { return shows.NewIDFor(show, kind, song) },
			Stock: func(string) (*timeline.Show, error) { return show, nil },
			Found: func(string) (map[timeline.Ref][]string, error) { return nil, nil }}
		if o.On == "night" {
			at.Plan = timeline.Compile(show, show.Night(at.On.ID))
		}
		args := o.New()
		for i := range o.Args {
			if !giveAny(t, at.Plan, &o.Args[i], args) {
				return // as verb and form would not go on
			}
		}
		edit, err := o.Edit(at, args)
		if err != nil || edit == nil {
			return // refused, or nothing to do
		}
		next, err := show.Edit(edit)
		if err != nil {
			return
		}
		made[o.ID()]++
		requireLoads(t, dir, show, next)
	})
	require.NotEmpty(t, made, "no operation came to anything")
}

// drawOn gives a record of a kind for an operation to be done to.
func drawOn(t *rapid.T, show *timeline.Show, kind string) timeline.Ref {
	k := timeline.KindOf(kind)
	if k == nil {
		return timeline.Ref{}
	}
	return timeline.Ref{Kind: kind, ID: rapid.SampledFrom(k.List(show, "")).Draw(t, "on").RecordID()}
}

// giveAny gives an argument one of what it can be, or any text; often none. It
// reports whether the argument has what it needs.
func giveAny(t *rapid.T, p *timeline.Plan, a *operation.Argument, args any) bool {
	needed := a.Need != "" || a.Word != "" && !a.Optional
	if !needed && rapid.Bool().Draw(t, "without "+a.Name) {
		return true
	}
	var choices []string
	choices = append(choices, a.Choices...)
	for _, o := range a.Offers(p.Show) {
		choices = append(choices, o.Value)
	}
	for _, kind := range a.Ref {
		if k := timeline.KindOf(kind); k != nil && !k.InSong {
			for _, r := range k.List(p.Show, "") {
				choices = append(choices, kind+"="+string(r.RecordID()), string(r.RecordID()))
			}
		}
	}
	text := textOrSo.Draw(t, a.Name)
	switch {
	case len(choices) > 0 && rapid.IntRange(0, 3).Draw(t, "choice of "+a.Name) > 0:
		text = rapid.SampledFrom(choices).Draw(t, a.Name)
	case a.Type == field.NumberType || a.Type == field.WholeType:
		text = fmt.Sprint(rapid.IntRange(0, 12).Draw(t, a.Name))
	case a.Type == field.FlagType:
		text = fmt.Sprint(rapid.Bool().Draw(t, a.Name))
	}
	err := a.Give(p, args, text)
	return err == nil
}

// Whatever is assigned to any field of any record is refused, or leaves a show
// that loads again.
func TestAnyTextInAnyFieldLeavesAShowThatLoads(t *testing.T) {
	show, dir := exampleShow(t), t.TempDir()
	plan := timeline.Compile(show, nil)
	var refs []timeline.Ref
	for _, k := range timeline.Kinds() {
		songs := []timeline.ID{""}
		if k.InSong {
			songs = []timeline.ID{show.Songs[0].ID}
		}
		for _, r := range k.List(show, songs[0]) {
			refs = append(refs, timeline.Ref{Kind: k.Name, Song: songs[0], ID: r.RecordID()})
		}
	}
	made := 0
	rapid.Check(t, func(t *rapid.T) {
		ref := rapid.SampledFrom(refs).Draw(t, "record")
		f := rapid.SampledFrom(timeline.KindOf(ref.Kind).Fields).Draw(t, "field")
		a := timeline.Assignment{Field: f.Name, Op: timeline.AssignSet, Text: textOrSo.Draw(t, "text")}
		if f.Type == timeline.ListField {
			a.Op = timeline.AssignAdd
		}
		next, err := show.Edit(plan.Assign(ref, a))
		if err != nil {
			return
		}
		made++
		requireLoads(t, dir, show, next)
	})
	require.Positive(t, made)
}

// Whatever stands in the cells of a table is placed clean, with a note, or not
// at all, and leaves a show that loads again.
func TestAnyCellLeavesAShowThatLoads(t *testing.T) {
	show, dir := exampleShow(t), t.TempDir()
	plan := timeline.Compile(show, nil)
	cleaned := 0
	rapid.Check(t, func(t *rapid.T) {
		cell := func(name string) string {
			return `"` + strings.ReplaceAll(strings.ReplaceAll(textOrSo.Draw(t, name), "\x00", "\x01"), `"`, `""`) + `"`
		}
		data := "bar,lane,target,note\n9.1," + cell("lane") + ",Jet 1," + cell("note") + "\n10.1,Jets,," + cell("note") + "\n"
		table, err := intake.ReadTable([]byte(data), intake.TableOptions{Any: intake.MappingFields()})
		require.NoError(t, err)
		rows, err := table.Cues(plan, intake.CueOptions{Song: show.Songs[0]})
		require.NoError(t, err)
		for _, r := range rows {
			if strings.Contains(r.Says, "cleaned") {
				cleaned++
			}
			require.NoError(t, field.Plain(r.Says))
		}
		next, err := show.Edit(intake.PlaceCues(plan, rows, func(kind string, song timeline.ID) timeline.ID { return shows.NewIDFor(show, kind, song) }))
		require.NoError(t, err)
		requireLoads(t, dir, show, next)
	})
	require.Positive(t, cleaned)
}

// A table with a line break in a note is placed from the command line, and says
// what it made of it.
func TestImportCleansCells(t *testing.T) {
	inExampleFolder(t, true)
	require.NoError(t, os.WriteFile("cues.csv", []byte("bar,lane,target,note\n9.1,Extra,Jet 1,\"first\n second\u202e\"\n"), 0o644))
	var out, errs strings.Builder
	require.Zero(t, run([]string{"import", "tour", "cues.csv", "--song", "1"}, nil, &out, &errs), errs.String())
	require.Contains(t, out.String(), "note cleaned of characters that no show keeps")
	l, err := shows.Load("tour")
	require.NoError(t, err)
	var notes []string
	for _, c := range l.Show.Songs[0].Cues {
		notes = append(notes, c.Note)
	}
	require.Contains(t, notes, "first second")
}
