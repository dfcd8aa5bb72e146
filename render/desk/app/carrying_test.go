package app

import (
	"context"
	"image"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/testsound"
	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/desk/page/carrying"
	"emberbeat/render/widget"
	"emberbeat/shows"
	"emberbeat/shows/arrival"
	"emberbeat/shows/example"
	"emberbeat/timeline"
	"emberbeat/timeline/carry"
)

// oneSong starts an App on a show that has one song of the example alone, with its recording.
func oneSong(t *testing.T, slug string) (*hand, timeline.ID) {
	t.Helper()
	h := newHand(t)
	h.dir = filepath.Join(t.TempDir(), "show")
	require.NoError(t, example.CopyTo(h.dir))
	l, err := shows.Load(h.dir)
	require.NoError(t, err)
	var song timeline.ID
	for _, g := range l.Show.Songs {
		if g.Slug == slug {
			song = g.ID
			continue
		}
		require.NoError(t, os.Remove(filepath.Join(h.dir, filepath.FromSlash(g.Audio.Path))))
	}
	require.NotEmpty(t, song)
	require.NoError(t, h.a.Open(h.dir))
	h.a.song.GoSong(song)
	h.step()
	h.settle()
	return h, song
}

// cutRecording writes a song's recording without a stretch, and gives the file.
func cutRecording(t *testing.T, h *hand, song timeline.ID, from, to timeline.Time) string {
	t.Helper()
	src, err := audio.Open(h.a.work.Session.Recording(&h.a.work.Show.Song(song).SongHead))
	require.NoError(t, err)
	defer src.Close()
	pcm := audio.NewPCM(src)
	require.NoError(t, audio.Run(context.Background(), src, 0, pcm.Write))
	a, b := from.Samples(pcm.Rate)*int64(pcm.Channels), to.Samples(pcm.Rate)*int64(pcm.Channels)
	path := filepath.Join(t.TempDir(), "from the mixer.wav")
	require.NoError(t, testsound.WriteWAV16(path, pcm.Rate, pcm.Channels, slices.Delete(pcm.Samples, int(a), int(b))))
	return path
}

// onDisk gives every file of a folder but the recordings, by its path.
func onDisk(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	require.NoError(t, filepath.Walk(dir, func(path string, info os.FileInfo, err error) error {
		if err == nil && !info.IsDir() && strings.HasSuffix(path, ".toml") {
			b, err := os.ReadFile(path)
			files[path] = string(b)
			return err
		}
		return err
	}))
	return files
}

// A recording with two bars cut is looked at on its page: the song is found by what is heard, what is lost is told, words are kept in the
// proposal, and accepting it is one step, which undo takes back to the same bytes.
func TestRecordingIsCarriedOver(t *testing.T) {
	h, song := oneSong(t, "kettle-lightning")
	g := h.a.work.Show.Song(song)
	first := g.Beats.Locate(g.Beats.At(timeline.BarBeat{Bar: 17})).Bar
	from, to := g.Beats.BarStart(first), g.Beats.BarStart(first+2)
	before := onDisk(t, h.dir)
	file := cutRecording(t, h, song, from, to)

	require.True(t, h.a.Use("book-carry"))
	h.step()
	require.Contains(t, textsOf(h.frame.Panels), "No recording was looked at yet")
	h.a.Drop([]string{file})
	h.settle()
	h.step()
	p := h.a.families[carryFamily].State.(*carrying.Carrying)
	require.Len(t, p.List, 1)
	a := p.List[0]
	require.Equal(t, arrival.Carries, a.Verdict, a.Why)
	require.Equal(t, song, a.Song)
	require.Contains(t, textsOf(h.frame.Panels), "Kettle Lightning")
	c := a.Proposal.Counts()
	require.Equal(t, len(g.Cues), c.Sure+c.Look+c.Lost, "every cue is counted once")
	lost := 0
	for _, q := range g.Cues {
		if at, ok := q.At.In(g.Beats); ok && at >= from+timeline.Second/10 && at < to-timeline.Second/10 {
			lost++
		}
	}
	require.Positive(t, lost)
	require.GreaterOrEqual(t, c.Lost+c.Look, lost)
	require.Greater(t, c.Sure, len(g.Cues)/2)
	require.Len(t, p.Lay.Bands(), 2, "before the cut and after it")

	// Words, by their keys.
	h.checked()
	rows := p.Rows(a)
	i := slices.IndexFunc(rows, func(x *carry.Item) bool { return x.Cue() && x.Status == carry.Lost && x.Next != nil })
	require.GreaterOrEqual(t, i, 0)
	p.Cues.Only(i)
	x := rows[i]
	h.in.Text = []rune("3")
	h.key("3")
	require.Equal(t, carry.Other, x.Said)
	require.NotNil(t, x.Is)
	require.Equal(t, c.Lost-1, a.Proposal.Counts().Lost)
	p.Cues.Only(i)
	h.key("3")
	require.Empty(t, x.Said, "the same key takes it back")
	j := slices.IndexFunc(p.Rows(a), func(x *carry.Item) bool { return x.Cue() && x.Status == carry.Exact })
	p.Cues.Only(j)
	h.key("Delete")
	require.Equal(t, carry.Out, rows[j].Said)
	require.Equal(t, c.Lost+1, a.Proposal.Counts().Lost)
	p.Cues.Only(j)
	h.key("Enter")
	require.Equal(t, carry.Fine, rows[j].Said)

	// A ribbon that is dragged is put where it is dropped, and the song is carried again with it.
	was := a.Proposal
	at := middle(p.Lay.Between).Add(image.Pt(h.a.Scale().Px(200), 0))
	require.Equal(t, 1, p.Lay.BandAt(at))
	h.drag(at, at.Sub(image.Pt(30, 0)), widget.Alt)
	require.Len(t, a.Locked(), 1)
	require.NotSame(t, was, a.Proposal)
	moved := a.Locked()[0]
	require.Equal(t, was.Map.Runs[len(was.Map.Runs)-1].Old, moved.Old)
	require.Less(t, moved.New, was.Map.Runs[len(was.Map.Runs)-1].New)
	require.Equal(t, moved.OldEnd-moved.Old, moved.NewEnd-moved.New)
	h.step()
	require.Contains(t, textsOf(h.frame.Panels), "placed by hand")
	require.True(t, h.a.Use("carry-unlock"))
	require.Empty(t, a.Locked())
	require.Equal(t, was.Map, a.Proposal.Map)
	require.Equal(t, []int{was.Counts().Sure, was.Counts().Look, was.Counts().Lost}, []int{a.Proposal.Counts().Sure, a.Proposal.Counts().Look, a.Proposal.Counts().Lost}, "words stay where the places do")

	// What comes of accepting it: findings that come and go, as they are foreseen.
	p.Tab = 1
	h.step()
	f := h.foreseen()
	require.NoError(t, f.Err)
	h.step()
	require.Contains(t, strings.ReplaceAll(textsOf(h.frame.Panels), "\n", " "), "Here: "+f.Text())
	require.Equal(t, before, onDisk(t, h.dir), "nothing is changed before it is accepted")
	undo, _ := h.a.work.Session.Labels()
	require.Empty(t, undo)

	h.key("Shift+Enter")
	h.settle()
	h.step()
	is := h.a.work.Show.Song(song)
	require.Equal(t, a.Heard.Ident.FileHash, is.Audio.FileHash)
	require.True(t, a.Accepted(h.a.work.Show))
	require.Len(t, is.Cues, len(g.Cues)-c.Lost)
	require.Len(t, is.Asides, c.Lost+lostBeside(a), "what is lost is set aside")
	undo, _ = h.a.work.Session.Labels()
	require.Len(t, undo, 1, "it is one step")
	require.NotEmpty(t, h.a.byID("carry-accept").off(h.a), "it is carried over already")
	h.key("Ctrl+Z")
	h.settle()
	require.NoError(t, h.a.work.Session.Save())
	require.Equal(t, before, onDisk(t, h.dir), "undo gives the same bytes")
	require.False(t, a.Accepted(h.a.work.Show))
	require.Empty(t, h.a.byID("carry-accept").off(h.a), "it can be accepted again")

	// Several at once, worst first: one that cannot be read, one of the song, one of none, which is offered as a new song.
	noise, text := filepath.Join(t.TempDir(), "overture.wav"), filepath.Join(t.TempDir(), "notes.wav")
	require.NoError(t, testsound.WriteWAV16(noise, 8000, 1, testsound.Noise(40000, 7)))
	require.NoError(t, os.WriteFile(text, []byte("remember the confetti"), 0o600))
	h.a.Drop([]string{noise, file, text})
	h.settle()
	h.step()
	var verdicts []arrival.Verdict
	for _, a := range p.List {
		verdicts = append(verdicts, a.Verdict)
	}
	require.Equal(t, []arrival.Verdict{arrival.Unread, arrival.Carries, arrival.NoSong}, verdicts)
	require.NotEmpty(t, h.a.byID("carry-accept").off(h.a), "what cannot be read cannot be accepted")
	p.Songs.Only(2)
	h.step()
	require.Contains(t, textsOf(h.frame.Panels), "new song")
	songs := len(h.a.work.Show.Songs)
	require.True(t, h.a.Use("carry-accept"))
	h.settle()
	h.step()
	require.Len(t, h.a.work.Show.Songs, songs+1)
	require.Equal(t, p.List[2].Free.String(), h.a.work.Show.Song(p.List[2].Song).Start.String(), "it starts where that was offered")
	require.Contains(t, textsOf(h.frame.Panels), "\nadded\n")
	require.Contains(t, textsOf(h.frame.Panels), "It is the song “overture” now")

	// A song that was changed meanwhile is carried as it stands; and a key of the page is no letter that the list is searched for.
	b := p.List[1]
	p.Songs.Only(1)
	h.step()
	stale := b.Proposal
	rows = p.Rows(b)
	lane := h.a.work.Show.Song(song).Cue(rows[len(rows)-1].Ref.ID).Lane
	require.NotEqual(t, lane, h.a.work.Show.Song(song).Cue(rows[1].Ref.ID).Lane)
	require.True(t, h.a.Do("name", func(d *timeline.Draft) error {
		return d.Set(timeline.Ref{Kind: "lane", Song: song, ID: lane}, "name", timeline.Value{Text: "3 high"})
	}))
	h.step()
	require.NotSame(t, stale, b.Proposal)
	h.key("Enter") // from the recordings to the cues
	p.Cues.Only(0)
	h.in.Text = []rune("3")
	h.key("3")
	require.Equal(t, carry.Other, p.Rows(b)[0].Said)
	require.Equal(t, 1, p.Cues.Cursor, "on to the next one that wants a look")
}

// lostBeside counts what is lost and no cue.
func lostBeside(a *arrival.Arrival) (n int) {
	for i := range a.Proposal.Items {
		if x := &a.Proposal.Items[i]; !x.Cue() && x.Status == carry.Lost && (x.Ref.ID != "" || x.Ref.Kind == timeline.AsideLock) {
			n++
		}
	}
	return n
}

// Stretches of recordings are heard one after the other in the place of the song, which comes back after them; a second press ends them, and
// so does another page.
func TestStretchesAreHeardInTheirOrder(t *testing.T) {
	h := withExample(t)
	other := filepath.Join(t.TempDir(), "other.wav")
	require.NoError(t, testsound.WriteWAV16(other, 8000, 1, make([]int16, 16000)))
	file := h.a.work.Session.Recording(&h.a.work.Show.Song(h.a.work.Song).SongHead)
	was := h.a.work.View().Playhead
	ms := timeline.Millisecond
	h.a.Hear(page.Stretch{File: file, From: timeline.Second, To: timeline.Second + 60*ms}, page.Stretch{File: other, From: 0, To: 60 * ms})
	require.Equal(t, 0, h.a.Hearing())
	h.until(func() bool { return h.a.Hearing() < 0 })
	require.True(t, h.log.has("hearing 0 from="+timeline.Second.String()))
	require.True(t, h.log.has("hearing 1 from="+timeline.Time(0).String()))
	require.True(t, h.log.has("heard all"))
	require.Equal(t, was, h.a.work.View().Playhead, "the song's own playhead stays")
	h.a.song.Seek(10 * timeline.Second) // the other one is 2 s long
	h.step()
	h.a.Use("play")
	h.until(func() bool { return h.a.song.Heard() > 10*timeline.Second+50*ms })
	h.a.Use("play")

	h.a.Hear(page.Stretch{File: other, From: 0, To: 2 * timeline.Second})
	h.step()
	h.a.Hear()
	require.Equal(t, -1, h.a.Hearing())
	h.a.Hear(page.Stretch{File: other, From: 0, To: 2 * timeline.Second})
	h.a.Use("book-rules")
	require.Equal(t, -1, h.a.Hearing())

	// A recording that is not there says so, and nothing is waited for.
	h.a.Hear(page.Stretch{File: filepath.Join(t.TempDir(), "gone.wav"), To: timeline.Second})
	h.until(func() bool { return h.a.Hearing() < 0 })
	require.True(t, h.a.note.bad)
	require.Contains(t, h.a.note.text, "gone.wav")
}

// The page by keys and buttons: a folder is chosen as a whole, listening to it is cancelled and leaves nothing, copies are taken for one cue or
// for all, 1, 2 and Space play the old sound, the new one, and both, with a line that moves with what is heard.
func TestPageOfRecordingsByKeys(t *testing.T) {
	h, song := oneSong(t, "kettle-lightning")
	x, rate, channels := samplesOf(t, h.a.work.Session.Recording(&h.a.work.Show.Song(song).SongHead))
	s := rate * channels
	dir := t.TempDir()
	require.NoError(t, testsound.WriteWAV16(filepath.Join(dir, "twice.wav"), rate, channels, slices.Concat(x[:24*s], x[12*s:24*s])))
	p := h.a.families[carryFamily].State.(*carrying.Carrying)
	choose := func() {
		require.True(t, h.a.Use("carry"))
		h.step()
		h.a.dialog.(*browseDialog).b.Folder = dir
		h.step()
		h.button("All in this folder")
	}
	choose()
	require.Len(t, h.a.jobs, 1)
	require.NotEmpty(t, h.a.byID("carry").off(h.a), "one thing at a time")
	h.a.jobs[0].stop()
	h.settle()
	h.step()
	require.Empty(t, p.List)
	require.Contains(t, textsOf(h.frame.Panels), "cancelled: listening to twice.wav")
	choose()
	h.settle()
	h.step()
	require.Len(t, p.List, 1)
	a := p.List[0]
	require.Equal(t, arrival.Carries, a.Verdict, a.Why)

	require.NotEmpty(t, h.a.byID("carry-start").off(h.a), "it says no start")
	copies := a.Proposal.Counts().Copies
	require.Greater(t, copies, 1)
	rows := p.Rows(a)
	i := slices.IndexFunc(rows, func(x *carry.Item) bool { return x.Cue() && len(x.Copies) > 0 })
	require.GreaterOrEqual(t, i, 0)
	p.Cues.Only(i)
	require.True(t, h.a.Use("carry-copies"))
	h.step()
	require.Equal(t, len(rows[i].Copies), a.Proposal.Counts().Taken)
	p.Cues.Clear()
	require.True(t, h.a.Use("carry-copies"))
	h.step()
	require.Equal(t, copies, a.Proposal.Counts().Taken)
	p.Cues.Only(i)
	p.Tab = 0
	h.step()
	playhead := func() (left int) {
		left = -1
		for k := range h.frame.Moving.Shapes {
			if sh := &h.frame.Moving.Shapes[k]; sh.Ink == render.InkPlayhead && sh.Box.Dx() <= 4 {
				left = sh.Box.Min.X
			}
		}
		return left
	}
	heard := map[string]int{}
	for _, key := range []string{"1", "2"} {
		h.in.Text = []rune(key)
		h.key(key)
		require.Equal(t, 0, h.a.Hearing())
		h.until(func() bool { at, ok := h.a.HearingAt(); return ok && at > 0 && playhead() >= 0 })
		was := playhead()
		h.until(func() bool { return playhead() > was })
		heard[key] = lineOf(h)
		h.key(key)
		require.Equal(t, -1, h.a.Hearing(), "the same key ends it")
		require.Equal(t, -1, playhead())
	}
	require.Less(t, heard["1"], heard["2"], "the old sound stands over the new one")
	h.key("Space")
	require.Equal(t, 0, h.a.Hearing())
	h.until(func() bool { return h.a.Hearing() == 1 })
	h.key("Space")
	require.Equal(t, -1, h.a.Hearing())

	require.NotZero(t, lostBeside(a), "sections are lost as well")
	require.True(t, h.a.Use("carry-accept"))
	h.settle()
	h.step()
	require.True(t, a.Accepted(h.a.work.Show))
	require.Contains(t, textsOf(h.frame.Panels), "\ncarried over\n", "what is gone from the song is still told")
}

// lineOf gives how low the line of what is heard stands.
func lineOf(h *hand) int {
	for k := range h.frame.Moving.Shapes {
		if sh := &h.frame.Moving.Shapes[k]; sh.Ink == render.InkPlayhead {
			return sh.Box.Min.Y
		}
	}
	return -1
}

// A song that has another recording since an older save is taken back to that, when nothing is left to undo.
func TestCarryingOverIsUndoneLater(t *testing.T) {
	h := withExample(t)
	song, before := h.a.work.Song, onDisk(t, h.dir)
	require.True(t, h.a.Do("another recording", func(d *timeline.Draft) error {
		g := d.Show().Song(song)
		head := g.SongHead
		head.Audio.FileHash, head.Audio.PCMHash, head.Audio.Frames = strings.Repeat("5", 64), "", head.Audio.Frames-44100
		head.Audio.PlacedOn = head.Audio.FileHash
		d.Put("", &head)
		return d.Remove(timeline.Ref{Kind: "cue", Song: song, ID: g.Cues[0].ID})
	}))
	require.True(t, h.a.Use("save"))
	h.settle()
	require.NotEqual(t, before, onDisk(t, h.dir))
	h.a.Use("close-show")
	h.step()
	require.NoError(t, h.a.Open(h.dir))
	h.step()
	h.a.song.GoSong(song)
	h.settle()
	require.NotEmpty(t, h.a.byID("undo").off(h.a), "the show was opened anew")
	require.True(t, h.a.Use("carry-undo"))
	h.settle()
	require.True(t, h.a.Use("save"))
	h.settle()
	require.Equal(t, before, onDisk(t, h.dir))
}
