package timeline

import "emberbeat/timeline/field"

// Lane is a row of a song: what its cues aim at and what they do there.
type Lane struct {
	Base
	Name    string
	Target  ID       // placed effect or group
	Role    SlotRole // effect, or arm, condition, warm-up: then its cues are windows
	Article ID       // default article of its cues; none = that of the placed effect
	Open    Time     // default open time of its cues; 0 = the article's
	Locked  bool
	Note    string
}

func (l *Lane) defaults() { l.Role = EffectSlot }

// Window reports whether the lane's cues are windows in which a slot is on
// (arm, condition, warm-up) rather than hits.
func (l *Lane) Window() bool { return l.Role != EffectSlot && l.Role != LevelSlot }

// Cue is one hit: the instant at which the audience sees its effect. On a
// window lane it is the instant from which the slot must be on, and Open says
// how long.
type Cue struct {
	Base
	Lane     ID
	Target   ID // overrides the lane's
	At       Moment
	Article  ID   // overrides the lane's
	Open     Time // 0 = the lane's, then the article's
	Level    int  // percent, 0 = the article's
	Group    ID   // cues that were made together stay together
	Locked   bool
	Disabled bool
	Note     string
	Laid     LaidAt // of a window: where the program laid it, see Owned

	again ID // of the cue that it is played again for, in a version where that is heard twice
}

func init() {
	registerInSong("lane", "lanes", "a row of a song: what its cues aim at",
		func(s *Song) *[]*Lane { return &s.Lanes },
		field.Text("name", "what the crew calls it", func(l *Lane) *string { return &l.Name }),
		refField("target", "placed effect or group its cues aim at", func(l *Lane) *ID { return &l.Target }, "placed", "group"),
		field.Choice("role", "effect for hits; arm, condition or warm-up for windows", func(l *Lane) *SlotRole { return &l.Role },
			[]SlotRole{EffectSlot, ArmSlot, ConditionSlot, WarmUpSlot}),
		refField("article", "article of its cues; none = that of the placed effect", func(l *Lane) *ID { return &l.Article }, "article"),
		spanField("open", "open time of its cues; 0 = the article's", func(l *Lane) *Time { return &l.Open }),
		field.Flag("locked", "its cues must not move", func(l *Lane) *bool { return &l.Locked }),
		field.Text("note", "", func(l *Lane) *string { return &l.Note }),
	)
	registerInSong("cue", "cues", "one hit, or one window of an arm or condition",
		func(s *Song) *[]*Cue { return &s.Cues },
		refField("lane", "the lane it stands on", func(c *Cue) *ID { return &c.Lane }, "lane"),
		momentField("at", "the hit: a bar such as 17.3+1/2 or a time such as 1:02.5", func(c *Cue) *Moment { return &c.At }),
		refField("target", "placed effect or group, where it differs from the lane's", func(c *Cue) *ID { return &c.Target }, "placed", "group"),
		refField("article", "article, where it differs from the lane's", func(c *Cue) *ID { return &c.Article }, "article"),
		spanField("open", "open time; 0 = the lane's, then the article's", func(c *Cue) *Time { return &c.Open }),
		field.Whole("level", "percent; 0 = the article's", 0, 100, func(c *Cue) *int { return &c.Level }),
		refField("group", "cues made together share it", func(c *Cue) *ID { return &c.Group }),
		field.Flag("locked", "must not move", func(c *Cue) *bool { return &c.Locked }),
		field.Flag("disabled", "kept, but neither planned nor checked", func(c *Cue) *bool { return &c.Disabled }),
		field.Text("note", "", func(c *Cue) *string { return &c.Note }),
		field.Parsed("laid", "start and length at which arms laid this window: there it follows the hits; empty = a window of your own", func(c *Cue) *LaidAt { return &c.Laid }, LaidAt.String, ParseLaidAt),
	)
}
