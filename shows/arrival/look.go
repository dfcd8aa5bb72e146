package arrival

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"emberbeat/audio"
	"emberbeat/audio/ear"
	"emberbeat/audio/match"
	"emberbeat/shows"
	"emberbeat/shows/intake"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/carry"
)

// Files lists the recordings that are meant by files and folders, each once, those of
// a folder in the order of their names and without what lies in folders of it. A file
// that is named by itself is looked at whatever its name ends with.
func Files(names []string) ([]string, error) {
	var list []string
	add := func(name string) {
		if !slices.Contains(list, name) {
			list = append(list, name)
		}
	}
	for _, name := range names {
		info, err := os.Stat(name)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return nil, fmt.Errorf("%s: there is no such file or folder", name)
		case err != nil:
			return nil, err
		case !info.IsDir():
			add(filepath.Clean(name))
			continue
		}
		entries, err := os.ReadDir(name)
		if err != nil {
			return nil, err
		}
		found := false
		for _, e := range entries {
			if !e.IsDir() && !strings.HasPrefix(e.Name(), ".") && shows.IsSound(e.Name()) {
				add(filepath.Join(name, e.Name()))
				found = true
			}
		}
		if !found {
			return nil, fmt.Errorf("%s: there is no recording in this folder; wav, flac, mp3 and ogg are looked for", name)
		}
	}
	return list, nil
}

// Look listens to recordings and says what each is to the show. Nothing is changed.
// What cannot be read is said of it alone; an error is that of ctx, or that the show
// has not what options name.
func (d *Desk) Look(ctx context.Context, files []string, o Options) ([]*Arrival, error) {
	if o.Song != "" && d.s.Show().Song(o.Song) == nil {
		return nil, fmt.Errorf("the show has no song %q", o.Song)
	}
	list := make([]*Arrival, len(files))
	each(len(files), func(i int) { list[i] = d.listen(ctx, files[i], o) })
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	d.readSongs(ctx, list, o)
	for _, a := range list {
		if a.Verdict == "" {
			d.belong(a, o)
		}
	}
	d.oneEach(list)
	errs := make([]error, len(list))
	each(len(list), func(i int) {
		if a := list[i]; a.Song != "" && a.Verdict == "" {
			errs[i] = d.propose(ctx, a, o)
		}
	})
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	d.free(list)
	if o.Start {
		if err := d.startTaken(list); err != nil {
			return nil, err
		}
	}
	return list, ctx.Err()
}

// free finds where new songs would start: each in timecode of its own, that no song has
// and none of the other recordings asks for.
func (d *Desk) free(list []*Arrival) {
	show := *d.s.Show()
	show.Songs = slices.Clone(show.Songs)
	claim := func(a *Arrival, start timeline.Timecode) {
		show.Songs = append(show.Songs, &timeline.Song{SongHead: timeline.SongHead{Start: start, Length: a.length()}})
	}
	for _, a := range list {
		if s := a.Offered(show.Head.Rate); s != nil && a.Verdict == Carries {
			claim(a, s.At)
		}
	}
	for _, a := range list {
		if a.Verdict != NoSong {
			continue
		}
		start, err := show.FreeStart(&timeline.SongHead{Length: a.length()})
		if err != nil {
			a.refuse(Refused, fmt.Errorf("%s, and no new one can be added: %w", a.Why, err))
			continue
		}
		a.Free = &start
		claim(a, start)
	}
}

// length is how long the recording is.
func (a *Arrival) length() timeline.Time {
	return timeline.FromSamples(a.Heard.Ident.Frames, a.Heard.Ident.Rate)
}

// startTaken says that songs shall start where their recordings say, and none of them
// says where.
func (d *Desk) startTaken(list []*Arrival) error {
	var names []string
	for _, a := range list {
		if a.Proposal == nil {
			continue
		}
		if a.Proposal.Start != nil {
			return nil
		}
		names = append(names, a.File)
	}
	if len(names) == 0 {
		return nil // what they are is said of each
	}
	return &timeline.ValueError{Field: "start", Want: "no start of timecode that the show could take is said by " + strings.Join(names, ", ")}
}

// each does a piece of work for each of so many things, several at once.
func each(n int, work func(int)) {
	var wait sync.WaitGroup
	next := make(chan int)
	for range min(n, max(1, runtime.NumCPU())) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for i := range next {
				work(i)
			}
		}()
	}
	for i := range n {
		next <- i
	}
	close(next)
	wait.Wait()
}

// listen reads one recording: what it is, what is heard, where it says it starts.
func (d *Desk) listen(ctx context.Context, file string, o Options) *Arrival {
	a := &Arrival{File: file}
	step := func(float64) {}
	if o.Progress != nil {
		step = func(part float64) { o.Progress(file, part) }
	}
	heard, side, err := session.ListenToMatch(ctx, d.s.Cache(), file, nil, step)
	if err != nil {
		a.refuse(Unread, err)
		return a
	}
	a.Heard = heard
	a.starts(d.s.Show().Head.Rate)
	show := d.s.Show()
	for _, g := range show.Songs {
		if g.Elsewhere() || !(heard.Ident.FileHash == g.Audio.FileHash || g.Audio.PCMHash != "" && heard.Ident.PCMHash == g.Audio.PCMHash) || o.Song != "" && o.Song != g.ID {
			continue
		}
		a.Verdict, a.Song, a.Why = Same, g.ID, "it is the recording that the song has"
		if heard.Ident.FileHash != g.Audio.FileHash {
			a.Why = "it is another file with the very samples of the recording that the song has"
		}
		return a
	}
	if heard.Ident.Frames > 0 {
		a.side = side
		return a
	}
	a.refuse(Unread, errors.New("it holds no sound at all"))
	return a
}

// starts notes where the recording says that the song starts in timecode: on a channel
// that holds it, or by the time reference of its file.
func (a *Arrival) starts(rate timeline.Rate) {
	for _, f := range a.Heard.Timecode {
		if tc, ok := f.Start(); ok {
			a.Starts = append(a.Starts, Start{From: fmt.Sprintf("timecode on channel %d", f.Channel), At: tc, Rate: f.Rate})
		}
	}
	if format, err := intake.FormatOf(a.File); err != nil || format != intake.WaveFormat {
		return
	}
	if found, err := intake.ReadFile(a.File, rate); err == nil && found.Start != nil && *found.Start != (timeline.Timecode{}) {
		a.Starts = append(a.Starts, Start{From: "the file's time reference", At: *found.Start, Rate: rate})
	}
}

// readSongs reads the recordings of the songs that are asked about, once.
func (d *Desk) readSongs(ctx context.Context, list []*Arrival, o Options) {
	if !slices.ContainsFunc(list, func(a *Arrival) bool { return a.Verdict == "" }) {
		return
	}
	var songs []*timeline.Song
	for _, g := range d.s.Show().Songs {
		if d.songs[g.ID] == nil && (o.Song == g.ID || o.Song == "" && g.Audio.Path != "") {
			songs = append(songs, g)
		}
	}
	read := make([]*known, len(songs))
	each(len(songs), func(i int) { read[i] = d.read(ctx, songs[i]) })
	d.mu.Lock()
	defer d.mu.Unlock()
	for i, g := range songs {
		if ctx.Err() == nil {
			d.songs[g.ID] = read[i]
		}
	}
}

// read reads the recording that a song's cues stand on.
func (d *Desk) read(ctx context.Context, g *timeline.Song) *known {
	file, err := d.standsOn(ctx, g)
	if err != nil {
		return &known{err: err}
	}
	k := &known{file: file}
	k.heard, k.side, k.err = session.ListenToMatch(ctx, d.s.Cache(), file, g.Audio.Heard, nil)
	return k
}

// standsOn gives the file of the recording that a song's cues were placed against. It
// may be another one than the song names, and is then looked for by its hash.
func (d *Desk) standsOn(ctx context.Context, g *timeline.Song) (string, error) {
	file := d.s.Recording(&g.SongHead)
	if g.Audio.Path == "" {
		return "", errors.New("the song has no recording yet: link it to its first one")
	}
	want := cmp.Or(g.Audio.PlacedOn, g.Audio.FileHash)
	if file != "" {
		hash, err := audio.HashFile(ctx, file)
		switch {
		case err == nil && (want == "" || hash == want):
			return file, nil
		case err == nil && !g.Elsewhere() && d.samples(ctx, file) == g.Audio.PCMHash && g.Audio.PCMHash != "":
			return file, nil
		}
	}
	dir := filepath.Join(d.s.Dir(), shows.AudioDir)
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		if e.Type().IsRegular() && !strings.HasPrefix(e.Name(), ".") {
			if hash, err := audio.HashFile(ctx, filepath.Join(dir, e.Name())); err == nil && hash == want {
				return filepath.Join(dir, e.Name()), nil
			}
		}
	}
	if err := ctx.Err(); err != nil {
		return "", err
	}
	return "", fmt.Errorf("the recording that its cues were placed against is not in the show's folder any more; put it into %s, under any name", shows.AudioDir)
}

// samples gives the hash of a recording's samples; "" where it cannot be read.
func (d *Desk) samples(ctx context.Context, file string) string {
	heard, err := session.Listen(ctx, d.s.Cache(), file, ear.Locks{}, nil)
	if err != nil {
		return ""
	}
	return heard.Ident.PCMHash
}

// belong finds the song that a recording is of.
func (d *Desk) belong(a *Arrival, o Options) {
	if o.Song != "" {
		a.Song = o.Song
		return
	}
	for _, g := range d.s.Show().Songs {
		k := d.songs[g.ID]
		if k == nil || k.err != nil {
			continue
		}
		a.Alike = append(a.Alike, Likeness{g.ID, match.Alike(k.side, a.side)})
	}
	slices.SortStableFunc(a.Alike, func(x, y Likeness) int { return cmp.Compare(y.Much, x.Much) })
	if len(a.Alike) > 0 && a.Alike[0].Much >= match.SameSong {
		a.Song = a.Alike[0].Song
		return
	}
	a.Verdict, a.Why = NoSong, "it is of no song of the show"
	if unheard := d.unheard(); len(unheard) > 0 {
		a.Why += " of which the recording could be read; not read: " + strings.Join(unheard, ", ")
	}
}

// unheard names the songs whose recordings could not be compared.
func (d *Desk) unheard() []string {
	var names []string
	for _, g := range d.s.Show().Songs {
		if k := d.songs[g.ID]; k != nil && k.err != nil {
			names = append(names, fmt.Sprintf("%q (%v)", g.FullTitle(), k.err))
		}
	}
	return names
}

// oneEach lets a song be carried over to one recording alone, the one that is most
// like it.
func (d *Desk) oneEach(list []*Arrival) {
	best := map[timeline.ID]*Arrival{}
	much := func(a *Arrival) float64 {
		if len(a.Alike) == 0 {
			return 1
		}
		return a.Alike[0].Much
	}
	for _, a := range list {
		if a.Verdict != "" {
			continue
		}
		other := best[a.Song]
		if other != nil && much(a) > much(other) {
			a, other = other, a
			best[a.Song] = other
		}
		if other != nil {
			a.refuse(Refused, fmt.Errorf("%s is of the same song; say which of them it is carried over to, one file alone", filepath.Base(other.File)))
			continue
		}
		best[a.Song] = a
	}
}

// propose compares a recording with that of its song, and says what carrying over
// comes to.
func (d *Desk) propose(ctx context.Context, a *Arrival, o Options) error {
	show := d.s.Show()
	g := show.Song(a.Song)
	k := d.songs[a.Song]
	if k.err != nil {
		if err := ctx.Err(); err != nil {
			return err
		}
		a.refuse(Refused, k.err)
		return nil
	}
	m, err := match.Match(ctx, k.side, a.side)
	if err != nil {
		return err
	}
	a.side = nil // nothing is compared again
	if len(m.Runs) == 0 {
		a.refuse(Refused, fmt.Errorf("nothing of the recording of %q is heard in it: it is another song, or silence", g.FullTitle()))
		return nil
	}
	if held := m.Old - lost(m); o.Song == "" && held*leastHeld < m.Old {
		a.refuse(Refused, fmt.Errorf("only %d %% of the recording of %q is in it; say which song it is of to carry that over all the same", int(100*held/m.Old), g.FullTitle()))
		return nil
	}
	a.found = m
	return d.settle(a, o)
}

// Again proposes anew for a recording that was compared, with what the user has said
// since: copies that are taken, stretches that were placed by hand. Nothing is
// compared again.
func (d *Desk) Again(a *Arrival, o Options) error {
	if a.found == nil {
		return fmt.Errorf("%s: %s", a.File, a.Why)
	}
	return d.settle(a, o)
}

// settle says what carrying over by the map that was found comes to.
func (d *Desk) settle(a *Arrival, o Options) error {
	show := d.s.Show()
	g := show.Song(a.Song)
	if g == nil {
		return fmt.Errorf("the show has no song %q", a.Song)
	}
	id := a.Heard.Ident
	for i := range a.Starts {
		a.Starts[i].Is = a.Starts[i].At == g.Start
	}
	opts := carry.Options{Take: o.Take, Locked: o.Locked, NewID: func(kind string) timeline.ID { return shows.NewIDFor(show, kind, g.ID) },
		Audio: timeline.Audio{Path: g.Audio.Path, FileHash: id.FileHash, PCMHash: id.PCMHash, Rate: id.Rate, Frames: id.Frames}}
	if o.Start {
		opts.Start = a.start(show.Head.Rate)
	}
	is, err := heardIn(a.Heard)
	p, proposed := carry.Propose(show, a.Song, a.found, d.was(d.songs[a.Song]), is, opts)
	if proposed != nil {
		return proposed
	}
	if err != nil {
		p.Notes = append(p.Notes, "the beats that were heard make no beat map: "+err.Error())
	}
	a.Proposal, a.Verdict, a.locked = p, Carries, o.Locked
	return nil
}

// leastHeld is the share of a recording, one in so many, that another one must have to
// be taken for a version of its song without a word: a judgement.
const leastHeld = 5

func lost(m *timeline.TimeMap) (sum timeline.Time) {
	for _, s := range m.Lost() {
		sum += s.To - s.From
	}
	return sum
}

// start gives where the recording says that the song starts, at the show's rate.
func (a *Arrival) start(rate timeline.Rate) *timeline.Timecode {
	for _, s := range a.Starts {
		if s.Rate == rate {
			return &s.At
		}
	}
	return nil
}

// was is what was heard in the recording of a song.
func (d *Desk) was(k *known) carry.Recording {
	r, _ := heardIn(k.heard) // the song has a beat map of its own
	return r
}

// heardIn gives what was heard in a recording as carrying over wants it.
func heardIn(h *session.Heard) (r carry.Recording, err error) {
	a := h.Analysis
	r.Beats, err = a.BeatMap()
	if err != nil {
		r.Beats = nil
	}
	for _, s := range a.Sections {
		r.Sections = append(r.Sections, carry.Stretch{Name: s.Label, From: timeline.FromSeconds(s.From), To: timeline.FromSeconds(s.To)})
	}
	for _, x := range a.Hits {
		r.Hits = append(r.Hits, carry.Hit{At: timeline.FromSeconds(x.At), Label: string(x.Label)})
	}
	slices.SortStableFunc(r.Hits, func(a, b carry.Hit) int { return cmp.Compare(a.At, b.At) })
	return r, err
}
