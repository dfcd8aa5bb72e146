package sheet

import (
	"cmp"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// TonightSong is one song of a night beside the same song of the tour.
type TonightSong struct {
	Number   int     `json:"number"`
	Song     string  `json:"song"` // id
	Title    string  `json:"title"`
	Start    string  `json:"start"`         // timecode of the start of the audio
	Moved    bool    `json:"moved"`         // it differs from the tour's
	Shift    Seconds `json:"shift"`         // of everything in the song
	At       Seconds `json:"at"`            // set time of the start of its audio; alternatives start together
	Duration Seconds `json:"duration"`      //
	Encore   bool    `json:"encore"`        //
	Alt      string  `json:"alt,omitempty"` // alternatives share the word
	Hits     int     `json:"hits"`          // cues that are played
	Tour     int     `json:"hits_of_tour"`  //
	Cut      int     `json:"cut"`           // cues the night takes out whole
	Swapped  int     `json:"swapped"`       // cues that play another article on any unit
	Lost     int     `json:"lost"`          // cues, windows among them, that lead to nothing
	Partly   int     `json:"partly"`        // cues that are played, but not on all their units
	Disabled int     `json:"disabled"`      //
	Share    float64 `json:"share_lost"`    // of the tour's hits
	Thin     bool    `json:"thin"`          //
	Gap      Seconds `json:"gap"`           // the longest between two hits
	GapAfter string  `json:"gap_after"`     // timecode of the hit before it; "" with fewer than two
	GapBar   string  `json:"gap_bar"`       // and its bar
	GapTour  Seconds `json:"gap_of_tour"`   //
	Reasons  []Lost  `json:"lost_for"`      // every lost cue with its reason
}

// songs fills in the songs, played and not played.
func (t *Tonight) songs(p *timeline.Plan) {
	t.Songs, t.NotPlayed = []TonightSong{}, []NotPlayed{}
	tour := timeline.NewCompiler()
	starts, end := p.SetTimes()
	t.Length = Seconds(end)
	thin := t.thinShare(p.Show)
	for i := range p.Songs {
		ps := &p.Songs[i]
		whole := tour.CompileSong(p.Show, ps.Song.ID, nil)
		song := tonightSong(ps, whole.Songs[0].SongPlan, thin(ps.Song))
		song.At = Seconds(starts[i])
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
				return "cut for the night: " + given(c.Reason)
			}
		}
	}
	return ""
}

func tonightSong(ps *timeline.PlanSong, tour *timeline.SongPlan, thin float64) TonightSong {
	s := TonightSong{Number: ps.Number, Song: string(ps.Song.ID), Title: ps.Song.FullTitle(), Start: ps.Rate.Label(ps.Start), Moved: ps.Start != tour.Start,
		Shift: Seconds(ps.By), At: Seconds(ps.At), Duration: Seconds(ps.Duration), Encore: ps.Entry.Encore, Alt: ps.Entry.Alt, Disabled: ps.Disabled, Reasons: []Lost{}}
	hits, full := ps.Hits(), tour.Hits()
	s.Hits, s.Tour = len(hits), len(full)
	if s.Tour > s.Hits {
		s.Share = float64(s.Tour-s.Hits) / float64(s.Tour)
	}
	s.Thin = s.Share > thin
	gap, after := timeline.LongestGap(hits)
	s.Gap = Seconds(gap)
	if len(hits) > 1 {
		s.GapAfter, s.GapBar = ps.Label(after), barOf(ps.Song, after)
	}
	wide, _ := timeline.LongestGap(full)
	s.GapTour = Seconds(wide)
	s.count(ps.SongPlan)
	return s
}

// barOf gives the bar in which a time lies; "" without a beat map.
func barOf(song *timeline.Song, at timeline.Time) string {
	if song.Beats.Empty() {
		return ""
	}
	bar, _ := song.Beats.Locate(at).Spoken()
	return bar
}

// count counts cues, each once however many units it drives. A cue that is both
// cut and lost counts as cut.
func (s *TonightSong) count(p *timeline.SongPlan) {
	played, swapped := map[*timeline.Cue]bool{}, map[*timeline.Cue]bool{}
	for i := range p.Commands {
		c := &p.Commands[i]
		played[c.Cue] = true
		if c.Article.ID != cmp.Or(c.Cue.Article, c.Lane.Article, c.Unit.Placed.Article) {
			swapped[c.Cue] = true
		}
	}
	for i := range p.Windows {
		played[p.Windows[i].Cue] = true
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
		s.Reasons = append(s.Reasons, Lost{s.Song, string(l.Cue.ID), string(l.Reason), l.Name})
	}
}
