package timeline

import "emberbeat/timeline/field"

// StagePosition is a place on or above the stage where effects stand. Metres
// from the middle of the stage's front edge: X to the audience's right, Y
// upstage, Z up.
type StagePosition struct {
	Base
	Name    string
	X, Y, Z float64
	NEC     float64 // g, most net explosive content that may stand there at one time; 0 = no limit given
	Spotter string  // who or what post watches it; "" = not given
	Note    string
}

func init() {
	register("position", "positions", "a place on stage where effects stand", rigPart,
		func(s *Show, _ ID) []*StagePosition { return s.Rig.Positions },
		func(d *Draft, _ ID) *[]*StagePosition { return &d.rig().Positions },
		field.Text("name", "what the crew calls it", func(p *StagePosition) *string { return &p.Name }),
		field.Number("x", "m", "from the middle of the stage to the audience's right", -10000, 10000, func(p *StagePosition) *float64 { return &p.X }),
		field.Number("y", "m", "upstage from the front edge", -10000, 10000, func(p *StagePosition) *float64 { return &p.Y }),
		field.Number("z", "m", "above the stage floor", -1000, 1000, func(p *StagePosition) *float64 { return &p.Z }),
		field.Number("nec-limit", "g", "most net explosive content that may stand there at one time, spares too; 0 = not given", 0, 1e9, func(p *StagePosition) *float64 { return &p.NEC }),
		field.Text("spotter", "the post or the person that watches it", func(p *StagePosition) *string { return &p.Spotter }),
		field.Text("note", "", func(p *StagePosition) *string { return &p.Note }),
	)
}

// Placed is one effect placed on stage: an article at a position. Lanes and
// cues aim at placed effects or groups of them, never at outputs, so that a
// dead bank changes wiring and no cue.
type Placed struct {
	Base
	Name     string
	Article  ID
	Position ID
	Pan      float64 // degrees from straight up, to the audience's right
	Tilt     float64 // degrees from straight up, towards upstage
	End      ID      // position where its line ends, of a line rocket
	Spare    bool    // on site, not programmed
	Note     string
}

func init() {
	register("placed", "placed", "an effect placed on stage", rigPart,
		func(s *Show, _ ID) []*Placed { return s.Rig.Placed },
		func(d *Draft, _ ID) *[]*Placed { return &d.rig().Placed },
		field.Text("name", "what the crew calls it", func(p *Placed) *string { return &p.Name }),
		refField("article", "the article that stands there", func(p *Placed) *ID { return &p.Article }, "article"),
		refField("position", "where it stands", func(p *Placed) *ID { return &p.Position }, "position"),
		field.Number("pan", "°", "from straight up to the audience's right", -180, 180, func(p *Placed) *float64 { return &p.Pan }),
		field.Number("tilt", "°", "from straight up towards upstage", -180, 180, func(p *Placed) *float64 { return &p.Tilt }),
		refField("end", "position where its line ends, of a line rocket", func(p *Placed) *ID { return &p.End }, "position"),
		field.Flag("spare", "on site, not programmed", func(p *Placed) *bool { return &p.Spare }),
		field.Text("note", "", func(p *Placed) *string { return &p.Note }),
	)
}

// Group is an ordered choice of placed effects that a lane can aim at.
type Group struct {
	Base
	Name    string
	Members []ID // placed effects in the group's order
	Note    string
}

func init() {
	register("group", "groups", "placed effects that a lane can aim at together", rigPart,
		func(s *Show, _ ID) []*Group { return s.Rig.Groups },
		func(d *Draft, _ ID) *[]*Group { return &d.rig().Groups },
		field.Text("name", "what the crew calls it", func(g *Group) *string { return &g.Name }),
		refListField("members", "placed effects in the group's order", func(g *Group) *[]ID { return &g.Members }, "placed"),
		field.Text("note", "", func(g *Group) *string { return &g.Note }),
	)
}
