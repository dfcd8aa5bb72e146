package rule

import "emberbeat/timeline"

var _ = enterSheet(Rule{
	Name:    "manual-go",
	Summary: "what is called by hand when timecode is lost",
	Reason: "A person calls one moment after another. What comes sooner after a call than somebody can say and do the next is left out of the list, and counted there. Markers that stand " +
		"at a hit are the words the crew knows the place by.",
	Scope: InSong,
	Settings: []Setting{
		{Name: "call-gap", Default: "2", Unit: "s", Mark: timeline.Judgement, Source: "our judgement", Help: "how far apart two moments must be for a person to call both"},
		{Name: "marker-reach", Default: "0.25", Unit: "s", Mark: timeline.Judgement, Source: "our judgement", Help: "how far from a hit a marker may stand to be named with it"},
	},
})

// The numbers of the manual-go list.
var (
	CallGap     = setting("call-gap", "manual-go")
	MarkerReach = setting("marker-reach", "manual-go")
)

var _ = enterSheet(Rule{
	Name:    "spotter-sheet",
	Summary: "what each spotter sees when, and who stands near",
	Reason:  "A spotter is told of the performers' marks inside the zone of what plays at the position, and of those that stand near it without being in it.",
	Scope:   InSong,
	Settings: []Setting{
		{Name: "near-by", Default: "5", Unit: "m", Mark: timeline.Judgement, Source: "our judgement", Help: "how near a performer's mark is to be named, where no larger clear zone or fallout radius names it"},
	},
})

// NearBy is how near a mark is to be named on the spotter sheet.
var NearBy = setting("near-by", "spotter-sheet")

var _ = enterSheet(Rule{
	Name:    "set-view",
	Summary: "how a set runs over its time, song by song",
	Reason: "An audience that is given as much in every song has nothing left to wait for. The line is drawn for the eye, across the hits of all families in ten seconds; " +
		"what is above it is no finding.",
	Scope: WholeSet,
	Settings: []Setting{
		{Name: "most-hits", Default: "30", Mark: timeline.Judgement, Source: "our judgement", Help: "so many hits in ten seconds are where the line is drawn"},
	},
})

// HitLimit is where a line is drawn over the hits in ten seconds.
var HitLimit = setting("most-hits", "set-view")

var _ = enterSheet(Rule{
	Name:    "list-against-plan",
	Summary: "how a list that a desk has exported is held against the plan",
	Reason: "A row that is a little early or late is the same command at another frame; one that is far away is another one, and the plan's own is missing. When many rows are off by the very " +
		"same time, the song starts elsewhere in the list, which is said once.",
	Scope: WholeSet,
	Settings: []Setting{
		{Name: "list-window", Default: "1", Unit: "s", Mark: timeline.Judgement, Source: "our judgement", Help: "how early or late a row of the list may be to be taken for a command of the plan"},
		{Name: "offset-rows", Default: "3", Mark: timeline.Judgement, Source: "our judgement", Help: "so many rows at least, and more than half of a song's, must be off by the same time to be one offset"},
	},
})

// The numbers of a list held against the plan.
var (
	ListWindow = setting("list-window", "list-against-plan")
	OffsetRows = setting("offset-rows", "list-against-plan")
)

// Time gives a setting that is a length of time as a show has it, in a song that
// the show's setting may be limited to, or anywhere (nil).
func (n Named) Time(s *timeline.Show, song *timeline.Song) timeline.Time { return n.in(s, song).time }

// Plain gives any other setting as a show has it, in a song or anywhere (nil).
func (n Named) Plain(s *timeline.Show, song *timeline.Song) float64 { return n.in(s, song).plain }

// in reads the number of the first rule that the setting is declared for.
func (n Named) in(s *timeline.Show, song *timeline.Song) *number {
	name := declared[n].rules[0]
	k := settingsOf(&table[indexOf(name)], s.Setting(name), s.Told())
	return k.at(song, nil, nil).of(n)
}
