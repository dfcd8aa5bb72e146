package timeline

// Family is the kind of an effect, as a programmer sorts the stock.
type Family string

// The families of trade-facts §5. A family says how an effect looks and what
// it needs; the numbers stand in each article.
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

// Families lists all families in the order of the stock list.
func Families() []Family {
	return []Family{FountainLong, FountainBurst, FlashPot, Report, Airburst, Comet, Mine, LineRocket, Waterfall, Lance,
		CO2Jet, PropaneFlame, AerosolFlame, LiquidFlame, SparkMachine, FogMachine, Haze, ConfettiSingle, ConfettiBlower, OwnFamily}
}

// Class groups families by what they do to people and places; it gives the
// colour, never the shape.
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

// Class gives the family's class; an unknown family is Own.
func (f Family) Class() Class {
	switch f {
	case PropaneFlame, AerosolFlame, LiquidFlame:
		return Hot
	case FountainLong, FountainBurst, SparkMachine, Waterfall, Lance:
		return Spark
	case FlashPot, Report, Airburst, Comet, Mine, LineRocket:
		return Shot
	case CO2Jet:
		return Cold
	case ConfettiSingle, ConfettiBlower:
		return Paper
	case FogMachine, Haze:
		return Cloud
	}
	return Own
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

// Mark says how well a number is known (trade-facts, head).
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
)
