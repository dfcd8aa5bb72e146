package night

import (
	"cmp"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Song is one song of a night beside the same song of the tour.
type Song struct {
	Number   int             `json:"number"`
	Song     string          `json:"song"` // id
	Title    string          `json:"title"`
	Start    string          `json:"start"`         // timecode of the start of the audio
	Moved    bool            `json:"moved"`         // it differs from the tour's
	Shift    wording.Seconds `json:"shift"`         // of everything in the song
	At       wording.Seconds `json:"at"`            // set time of the start of its audio; alternatives start together
	Duration wording.Seconds `json:"duration"`      //
	Encore   bool            `json:"encore"`        //
	Alt      string          `json:"alt,omitempty"` // alternatives share the word
	Hits     int             `json:"hits"`          // cues that are played
	Tour     int             `json:"hits_of_tour"`  //
	Cut      int             `json:"cut"`           // cues the night takes out whole
	Swapped  int             `json:"swapped"`       // cues that play another article on any unit
	Lost     int             `json:"lost"`          // cues, windows among them, that lead to nothing
	Partly   int             `json:"partly"`        // cues that are played, but not on all their units
	Disabled int             `json:"disabled"`      //
	Share    float64         `json:"share_lost"`    // of the tour's hits
	Thin     bool            `json:"thin"`          //
	Gap      wording.Seconds `json:"gap"`           // the longest between two hits
	GapAfter string          `json:"gap_after"`     // timecode of the hit before it; "" with fewer than two
	GapBar   string          `json:"gap_bar"`       // and its bar
	GapTour  wording.Seconds `json:"gap_of_tour"`   //
	Reasons  []report.Lost   `json:"lost_for"`      // every lost cue with its reason
}

// songs fills in the songs, played and not played.
func (t *Tonight) songs(p *timeline.Plan) {
	t.Songs, t.NotPlayed = []Song{}, []NotPlayed{}
	tour := timeline.NewCompiler()
	starts, end := p.SetTimes()
	t.Length = wording.Seconds(end)
	thin, names := t.thinShare(p.Show), p.Show.Names()
	for i := range p.Songs {
		ps := &p.Songs[i]
		whole := tour.CompileSong(p.Show, ps.Song.ID, nil)
		song := tonightSong(names, ps, whole.Songs[0].SongPlan, thin(ps.Song))
		song.At = wording.Seconds(starts[i])
		t.Songs = append(t.Songs, song)
	}
	if p.Set == nil {
		return
	}
	for _, e := range p.Set.Entries {
		if song := p.Show.Song(e.Song); song != nil {
			if why := notPlayed(p, e); why != "" {
				t.NotPlayed = append(t.NotPlayed, NotPlayed{string(song.ID), song.FullTitle(), why})
			}
		}
	}
}

// thinShare gives the share of a song's hits that may be lost: the one asked
// for, or that of the rule.
func (t *Tonight) thinShare(s *timeline.Show) func(*timeline.Song) float64 {
	if asked := t.Thin; asked >= 0 {
		t.ThinFrom = "as asked for"
		return func(*timeline.Song) float64 { return asked }
	}
	share, ground := rule.SettingOf(s, "thin-song", "share")
	t.Thin, t.ThinFrom = share, "set by the show: setting thin-song, share"
	if ground.Mark != "" {
		t.ThinFrom = ground.Source + "; setting thin-song, share"
	}
	return func(song *timeline.Song) float64 {
		share, _ := rule.SettingIn(s, song, "thin-song", "share")
		return share
	}
}

func notPlayed(p *timeline.Plan, e timeline.Entry) string {
	if e.Out {
		return "left out of the set"
	}
	if p.Night != nil {
		for _, c := range p.Night.Cuts {
			if c.What == "song" && c.ID == string(e.Song) {
				return "cut for the night: " + wording.Given(c.Reason)
			}
		}
	}
	return ""
}

func tonightSong(names *timeline.Names, ps *timeline.PlanSong, tour *timeline.SongPlan, thin float64) Song {
	s := Song{Number: ps.Number, Song: string(ps.Song.ID), Title: ps.Song.FullTitle(), Start: ps.Rate.Label(ps.Start), Moved: ps.Start != tour.Start,
		Shift: wording.Seconds(ps.By), At: wording.Seconds(ps.At), Duration: wording.Seconds(ps.Duration), Encore: ps.Entry.Encore, Alt: ps.Entry.Alt, Disabled: ps.Disabled, Reasons: []report.Lost{}}
	hits, full := ps.Hits(), tour.Hits()
	s.Hits, s.Tour = len(hits), len(full)
	if s.Tour > s.Hits {
		s.Share = float64(s.Tour-s.Hits) / float64(s.Tour)
	}
	s.Thin = s.Share > thin
	gap, after := timeline.LongestGap(hits)
	s.Gap = wording.Seconds(gap)
	if len(hits) > 1 {
		s.GapAfter, s.GapBar = ps.Label(after), report.BarOf(ps.Song, after)
	}
	wide, _ := timeline.LongestGap(full)
	s.GapTour = wording.Seconds(wide)
	s.count(names, ps.SongPlan)
	return s
}

// count counts cues, each once however many units it drives. A cue that is both
// cut and lost counts as cut.
func (s *Song) count(names *timeline.Names, p *timeline.SongPlan) {
	played, swapped := map[*timeline.Cue]bool{}, map[*timeline.Cue]bool{}
	var dark []*timeline.Command
	for i := range p.Commands {
		c := &p.Commands[i]
		if c.Unit.Dark() {
			dark = append(dark, c)
			continue
		}
		played[c.Cue] = true
		if c.With == nil && c.Article.ID != cmp.Or(c.Cue.Article, c.Lane.Article, c.Unit.Placed.Article) {
			swapped[c.Cue] = true
		}
	}
	for i := range p.Asked {
		played[p.Asked[i].Cue] = true
	}
	s.Swapped = len(swapped)
	counted := map[*timeline.Cue]bool{}
	missing := func(c *timeline.Cue, whole *int) {
		switch {
		case counted[c]:
			return
		case played[c]:
			s.Partly++
		default:
			*whole++
		}
		counted[c] = true
	}
	for _, c := range p.Cut {
		missing(c, &s.Cut)
	}
	for _, l := range p.Lost {
		missing(l.Cue, &s.Lost)
		s.Reasons = append(s.Reasons, report.NewLost(names, p.Song, l.Cue, string(l.Reason), l.Name))
	}
	for _, c := range dark {
		if c.Unit.LeftOut != "" {
			missing(c.Cue, &s.Cut) // somebody has said why
			continue
		}
		missing(c.Cue, &s.Lost)
		s.Reasons = append(s.Reasons, report.NewLost(names, p.Song, c.Cue, report.OutOfService(c.Unit), c.Unit.Name))
	}
}
