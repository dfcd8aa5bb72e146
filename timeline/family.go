package timeline

import (
	"cmp"

	"emberbeat/timeline/figure"
)

// Family is the kind of an effect, as a programmer sorts the stock.
type Family string

// The families that code speaks of by name. A family says how an effect looks and
// what it needs; the numbers stand in each article.
const (
	FountainLong   Family = "fountain-long"
	FountainBurst  Family = "fountain-burst"
	FlashPot       Family = "flash-pot"
	Report         Family = "report"
	Airburst       Family = "airburst"
	Comet          Family = "comet"
	Mine           Family = "mine"
	LineRocket     Family = "line-rocket"
	Waterfall      Family = "waterfall"
	Lance          Family = "lance"
	CO2Jet         Family = "co2-jet"
	PropaneFlame   Family = "propane-flame"
	AerosolFlame   Family = "aerosol-flame"
	LiquidFlame    Family = "liquid-flame"
	SparkMachine   Family = "spark-machine"
	FogMachine     Family = "fog-machine"
	Haze           Family = "haze"
	ConfettiSingle Family = "confetti-single"
	ConfettiBlower Family = "confetti-blower"
	OwnFamily      Family = "own"
)

// families are all there is to know of each family, in the order of the stock
// list. One more is one more row.
var families = []familyRow{
	{family: FountainLong, class: Spark},
	{family: FountainBurst, class: Spark},
	{family: FlashPot, class: Shot, outline: BurstOutline, space: BallSpace},
	{family: Report, class: Shot, outline: BurstOutline, report: true, space: BallSpace},
	{family: Airburst, class: Shot, outline: BurstOutline, thrown: true, space: BallSpace},
	{family: Comet, class: Shot, thrown: true, space: PathSpace},
	{family: Mine, class: Shot, thrown: true},
	{family: LineRocket, class: Shot, line: true, space: PathSpace},
	{family: Waterfall, class: Spark, outline: FallingOutline, space: CurtainSpace},
	{family: Lance, class: Spark, space: BallSpace},
	{family: CO2Jet, class: Cold, medium: "CO2"},
	{family: PropaneFlame, class: Hot},
	{family: AerosolFlame, class: Hot},
	{family: LiquidFlame, class: Hot},
	{family: SparkMachine, class: Spark},
	{family: FogMachine, class: Cloud, space: NoSpace},
	{family: Haze, class: Cloud, space: NoSpace},
	{family: ConfettiSingle, class: Paper},
	{family: ConfettiBlower, class: Paper},
	{family: OwnFamily, class: Own},
}

type familyRow struct {
	family  Family
	class   Class
	outline Outline // on lanes and plans; "" = that of its class
	medium  string  // what an article of it lets out where it does not say; "" = unknown

	space Space // in which it is; "" = a column

	thrown bool // it leaves its unit the way that is aimed, and falls
	line   bool // it runs along a line
	report bool // it is one loud report
}

// familyRows finds a family's row.
var familyRows = func() map[Family]*familyRow {
	rows := map[Family]*familyRow{}
	for i := range families {
		rows[families[i].family] = &families[i]
	}
	return rows
}()

// row is what is known of a family; of an unknown one, what is known of the
// user's own.
func (f Family) row() *familyRow {
	if r := familyRows[f]; r != nil {
		return r
	}
	return familyRows[OwnFamily]
}

// Families lists all families in the order of the stock list.
func Families() []Family {
	list := make([]Family, len(families))
	for i := range families {
		list[i] = families[i].family
	}
	return list
}

// Class gives the family's class; an unknown family is Own.
func (f Family) Class() Class { return f.row().class }

// Outline gives what the audience sees of the family, as it is drawn: its own shape
// or that of its class.
func (f Family) Outline() Outline {
	r := f.row()
	return cmp.Or(r.outline, classOutlines[r.class])
}

// Medium is what an article of the family lets out where it does not say
// ("CO2"); "" = unknown.
func (f Family) Medium() string { return f.row().medium }

// Thrown reports whether what the family shoots leaves its unit the way that is
// aimed, and falls.
func (f Family) Thrown() bool { return f.row().thrown }

// AlongLine reports whether the family runs along a line and needs its end.
func (f Family) AlongLine() bool { return f.row().line }

// IsReport reports whether the family is one loud report.
func (f Family) IsReport() bool { return f.row().report }

// Space gives the form of the room that the family takes up.
func (f Family) Space() Space { return cmp.Or(f.row().space, ColumnSpace) }

// Space is the form of the room that an effect takes up.
type Space string

// The forms (our judgement).
const (
	ColumnSpace  Space = "column"  // a ball that grows along the axis
	PathSpace    Space = "path"    // as far as it comes down or its line goes, and what falls beside
	BallSpace    Space = "ball"    // all around
	CurtainSpace Space = "curtain" // down to the floor, whatever pan and tilt say
	NoSpace      Space = "none"    // none that can be computed
)

// Outline is what the audience sees of an effect.
type Outline string

// The outlines.
const (
	ColumnOutline  Outline = "column"  // a hot column
	FanOutline     Outline = "fan"     // a fountain
	StemOutline    Outline = "stem"    // a single shot with a head
	BurstOutline   Outline = "burst"   // all at once, all around
	JetOutline     Outline = "jet"     // a cold column
	FallingOutline Outline = "falling" // pieces that come down
	CloudOutline   Outline = "cloud"   // low and wide
	OwnOutline     Outline = "own"     // the user's own
)

// classOutlines is the shape of each class, for families that have none of their
// own.
var classOutlines = map[Class]Outline{Hot: ColumnOutline, Spark: FanOutline, Shot: StemOutline, Cold: JetOutline, Paper: FallingOutline, Cloud: CloudOutline, Own: OwnOutline}

// Class groups families by what they do to people and places; it gives the
// colour, and the shape where the family has none of its own.
type Class string

// The classes.
const (
	Hot   Class = "hot"   // flames
	Spark Class = "spark" // fountains, spark machines, waterfalls, lances
	Shot  Class = "shot"  // mines, comets, airbursts, reports, flash, rockets
	Cold  Class = "cold"  // CO2
	Paper Class = "paper" // confetti
	Cloud Class = "cloud" // fog, haze
	Own   Class = "own"
)

// Needs says what an article of the class must give so that where it reaches can
// be computed.
func (c Class) Needs() figure.Needs {
	switch c {
	case Spark, Shot:
		return figure.Needs{Height: true, Fallout: true}
	case Hot, Cold, Paper:
		return figure.Needs{Height: true}
	}
	return figure.Needs{}
}

// HitPoint says which instant of an effect is its hit: what the audience sees
// on the music.
type HitPoint string

// The hit points an article can name.
const (
	FirstLight HitPoint = "first-light"
	FullEffect HitPoint = "full-effect"
	Apex       HitPoint = "apex"
	AtReport   HitPoint = "report"
)

// Control says which kind of output an article needs.
type Control string

// The kinds of output.
const (
	IgniterControl Control = "igniter"
	RelayControl   Control = "relay"
	SlotControl    Control = "slots"
)

// Mark says how well a number is known.
type Mark string

// The marks. A number without one counts as CommonPractice.
const (
	Published      Mark = "S" // from a published source that was read
	FromMemory     Mark = "M" // from memory of a named document
	CommonPractice Mark = "C" // common practice, no source
	Judgement      Mark = "J" // our judgement
	Derived        Mark = "D" // computed here
	Measured       Mark = "measured"
	Label          Mark = "label" // from the label or the maker's sheet
	Invented       Mark = "invented"
	Typed          Mark = "own" // of a setting that stands in records: each has its own, or is as somebody typed it
)
