package app

import (
	"bytes"
	"context"
	"encoding/binary"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/testsound"
	"emberbeat/render/desk/page/carrying"
	"emberbeat/render/desk/page/conflicts"
	"emberbeat/render/paper"
	"emberbeat/render/sheet"
	"emberbeat/shows"
	"emberbeat/shows/arrival"
	"emberbeat/shows/example"
	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// samplesOf decodes a recording to 16 bits.
func samplesOf(t *testing.T, path string) (x []int16, rate, channels int) {
	t.Helper()
	pcm, err := audio.Decode(context.Background(), path, nil)
	require.NoError(t, err)
	for _, v := range pcm.Samples {
		x = append(x, int16(max(-1, min(v, 1))*32767))
	}
	return x, pcm.Rate, pcm.Channels
}

// threeFiles makes what arrives at 16:00 of three recordings: an edit of the first, a new mix of the second, brighter and later, which says
// by its time reference that it starts at 05:00:00:00, and a song of the sounds of the third.
func threeFiles(t *testing.T, one, two, three string) string {
	t.Helper()
	dir := t.TempDir()
	x, rate, channels := samplesOf(t, one)
	require.NoError(t, testsound.WriteWAV16(filepath.Join(dir, "one.wav"), rate, channels, slices.Delete(x[:42*rate*channels], 20*rate*channels, 23*rate*channels)))

	x, rate, channels = samplesOf(t, two)
	x = x[:36*rate*channels]
	mix := make([]int16, rate*channels/2, len(x)+rate*channels/2)
	for i, v := range x {
		mix = append(mix, int16(0.7*(float64(v)-0.5*float64(x[max(0, i-channels)]))))
	}
	path := filepath.Join(dir, "two.wav")
	require.NoError(t, testsound.WriteWAV16(path, rate, channels, mix))
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	body := make([]byte, 602)
	binary.LittleEndian.PutUint64(body[338:], uint64(5*3600*rate)) // EBU Tech 3285
	b = testsound.Chunk(b, "bext", body)
	binary.LittleEndian.PutUint32(b[4:], uint32(len(b)-8))
	require.NoError(t, os.WriteFile(path, b, 0o600))

	x, rate, channels = samplesOf(t, three)
	x = x[:20*rate*channels]
	for i, j := 0, len(x)-1; i < j; i, j = i+1, j-1 {
		x[i], x[j] = x[j], x[i]
	}
	require.NoError(t, testsound.WriteWAV16(filepath.Join(dir, "harbour lights.wav"), rate, channels, x))
	return dir
}

// printed gives all sheets of a night as files, made as if the rules had found the same.
func printed(t *testing.T, s *timeline.Show, night timeline.ID) map[string][]byte {
	t.Helper()
	p := timeline.Compile(s, s.Night(night))
	files := map[string][]byte{}
	for _, o := range sheet.Kinds() {
		made, err := o.Make(p, report.Filter{Standing: &report.Standing{}})
		require.NoError(t, err, o.Name)
		var b bytes.Buffer
		require.NoError(t, sheet.Write(&b, made, "pdf", paper.A4, 1), o.Name)
		files[o.Name] = b.Bytes()
	}
	return files
}

// From the morning's paper to the evening's: at 16:00 three recordings arrive, the order comes as text, the venue bans flames, and what a
// colleague did since the morning is merged. Every sheet that is otherwise is named, no other is, and nobody else's files are touched.
func TestNightFromFourOClock(t *testing.T) {
	h := newHand(t)
	h.dir = filepath.Join(t.TempDir(), "show")
	require.NoError(t, example.CopyTo(h.dir))
	recording := func(slug string) string { return filepath.Join(h.dir, "audio", slug+".ogg") }
	inbox := threeFiles(t, recording("kettle-lightning"), recording("tidewater-engine"), recording("lanterns-over-the-weir"))
	for _, slug := range []string{"slow-matches", "lanterns-over-the-weir"} { // they take their time, and nobody asks about them
		require.NoError(t, os.Remove(recording(slug)))
	}
	require.NoError(t, h.a.Open(h.dir))
	h.settle()

	h.key("Ctrl+7", "Insert") // a hall, a night there with an order of its own, and its paper
	h.button("venue.name")
	h.key("Ctrl+A")
	h.typed("Low Pier")
	h.key("Enter")
	hall := h.venue().ID
	h.key("Ctrl+8", "Insert")
	h.button("night.date")
	h.typed("2031-05-11")
	h.key("Enter")
	h.a.inspector.Assign(timeline.KindOf("night").Field("venue"), []timeline.Ref{{Kind: "night", ID: h.a.work.Night}}, string(hall))
	h.step()
	night := h.a.work.Night
	h.key("Ctrl+6")
	h.a.Use("set-copy")
	h.step()
	h.a.Use("set-play")
	h.step()
	h.checked()
	require.Len(t, h.a.work.Plan.Songs, 4)
	h.key("Ctrl+Shift+E")
	x := h.a.dialog.(*exportDialog)
	x.folder, x.ask.Print = t.TempDir(), true
	h.exportNow("Export")
	require.Empty(t, x.bad)
	require.True(t, h.a.Use("save"))
	h.settle()
	morning, files := h.a.work.Session.Show(), onDisk(t, h.dir)
	colleague := filepath.Join(t.TempDir(), "colleague")
	require.NoError(t, os.CopyFS(colleague, os.DirFS(h.dir)))

	h.a.turn(carrying.ID)
	h.step()
	h.a.Drop([]string{inbox}) // 16:00
	h.settle()
	h.step()
	p := h.a.families[carryFamily].State.(*carrying.Carrying)
	require.Len(t, p.List, 3)
	songs := map[string]timeline.ID{}
	for i, a := range p.List {
		name := filepath.Base(a.File)
		require.Equal(t, map[string]arrival.Verdict{"one.wav": arrival.Carries, "two.wav": arrival.Carries, "harbour lights.wav": arrival.NoSong}[name], a.Verdict, a.Why)
		h.a.turn(carrying.ID)
		h.step()
		p.Songs.Only(i)
		h.step()
		if name == "two.wav" {
			require.NotNil(t, a.Offered(timeline.Rate25), "%v", a.Starts)
			require.Contains(t, textsOf(h.frame.Panels), "says 05:00")
			require.True(t, h.a.Use("carry-start"))
			h.step()
		}
		require.True(t, h.a.Use("carry-accept"), name)
		h.settle()
		h.step()
		songs[name] = a.Song
	}
	require.Equal(t, "kettle-lightning", h.a.work.Show.Song(songs["one.wav"]).Slug)
	require.Equal(t, "tidewater-engine", h.a.work.Show.Song(songs["two.wav"]).Slug)
	require.Equal(t, timeline.Timecode{H: 5}, h.a.work.Show.Song(songs["two.wav"]).Start)

	h.a.Use("book-sets") // the order, as somebody mailed it
	h.step()
	h.a.ui.Clip.Write("LOW PIER, 11 MAY\n1. Tide water Engine\n2. Harbor Lights (new!)\n3. Slow Maches 3:45\nEncore\n4. Kettle Lightnig\n")
	h.a.Use("set-paste")
	h.step()
	f := h.form()
	for f.out.offer != nil {
		h.put("choose", f.out.offer.Texts["choose"])
		h.step()
	}
	require.Empty(t, f.why())
	require.True(t, f.take(h.a))
	h.step()
	var played []timeline.ID
	for _, ps := range h.a.work.Plan.Songs {
		played = append(played, ps.Song.ID)
	}
	require.Equal(t, []timeline.ID{songs["two.wav"], songs["harbour lights.wav"], "b1p4ffnh", songs["one.wav"]}, played)

	h.key("Ctrl+7") // the hall bans flames
	require.Equal(t, hall, h.venue().ID)
	h.button("ban propane-flame")
	h.checked()
	require.NotEmpty(t, ofRule(h, "banned"))
	h.key("Ctrl+8", "Ctrl+Shift+S")
	h.give("what", "family=propane-flame", "to", "cold-six", "reason", "flames are banned on the pier")
	h.foreseen()
	h.button("Swap")
	h.checked()
	require.Empty(t, ofRule(h, "banned"))
	h.a.Do("our lead", setField("article", "cold-six", "lead", "0.2"))
	require.True(t, h.a.Use("save"))
	h.settle()

	l, err := shows.Load(colleague) // what the colleague did
	require.NoError(t, err)
	theirs, err := l.Show.Edit(setField("article", "cold-six", "lead", "0.3"), setField("article", "comet-twelve", "note", "from the new crate"), timeline.ConditionTonight(night, "walk-through at 17:00"))
	require.NoError(t, err)
	require.NoError(t, shows.Save(colleague, theirs, l.Show))
	h.a.merge(colleague)
	require.Nil(t, h.a.dialog)
	h.settle()
	h.step()
	require.Equal(t, conflicts.ID, h.a.book.at)
	rows := h.a.tableOf(conflicts.ID).Rows()
	require.Len(t, rows, 1)
	h.a.tableOf(conflicts.ID).Choose(rows[0].Key)
	page := h.a.families[conflictFamily].State.(*conflicts.Conflicts)
	h.until(func() bool {
		h.step()
		return page.Known() == 3
	})
	page.Side.Only(1)
	h.step()
	require.True(t, h.a.Use("conflict-take"))
	require.Empty(t, openOf(t, h))
	h.checked()
	require.True(t, h.a.Use("save"))
	h.settle()

	// What has to be printed again is what would be other paper, and nothing else.
	evening := h.a.work.Session.Show()
	require.Equal(t, "0.3000", timeline.KindOf("article").Field("lead").Get(evening.Stock.Article("cold-six")).Text)
	h.key("Ctrl+9")
	h.until(func() bool { return tonightOf(h.a) != nil })
	h.step()
	before, after := printed(t, morning, night), printed(t, evening, night)
	var again, differ []string
	for _, s := range h.a.Prints() {
		if s.State == report.Changed {
			again = append(again, s.Sheet)
		}
	}
	for _, o := range sheet.Kinds() {
		if !bytes.Equal(before[o.Name], after[o.Name]) {
			differ = append(differ, o.Name)
		}
	}
	require.Equal(t, differ, again)
	require.Contains(t, differ, "cue-list")
	require.NotContains(t, differ, "patch-sheet")

	// Files of which nothing was asked are what they were, to the byte.
	var touched []string
	for path, text := range onDisk(t, h.dir) {
		rel, err := filepath.Rel(h.dir, path)
		require.NoError(t, err)
		if files[path] != text {
			touched = append(touched, filepath.ToSlash(rel))
		}
		delete(files, path)
	}
	require.Empty(t, files, "no file is gone")
	slices.Sort(touched)
	require.Equal(t, []string{
		"nights/night-2.toml", "show.toml", "songs/harbour-lights/song.toml", "songs/kettle-lightning/cues.toml", "songs/kettle-lightning/song.toml",
		"songs/tidewater-engine/cues.toml", "songs/tidewater-engine/song.toml", "stock.toml", "venues/venue-2.toml",
	}, touched)
}
