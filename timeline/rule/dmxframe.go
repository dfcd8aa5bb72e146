package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "dmx-frame",
	Summary: "commands on one universe come nearer to each other than one DMX packet lasts",
	Reason: "A universe is sent packet after packet: break + mark + slot time x (slots + 1), 22.7 ms for 512 slots. A value that changes just after its slot has gone out " +
		"waits for the next packet, 11.3 ms on average. Two commands within one packet may go out together, so that what the cues keep apart is seen at once. " +
		"Exact times; commands of the same instant are meant together and not counted. One note for each song and universe.",
	Scope:    InSong,
	Severity: Note,
	Settings: []Setting{
		{Name: "slots", Default: "512", Mark: timeline.Published, Source: "ANSI E1.11 (USITT DMX512-A): up to 512 data slots", Help: "data slots in a packet"},
		{Name: "slot-time", Default: "44", Unit: "µs", Mark: timeline.Published, Source: "ANSI E1.11: 11 bits of 4 µs", Help: "length of one slot"},
		{Name: "break", Default: "92", Unit: "µs", Mark: timeline.FromMemory, Source: "ANSI E1.11, shortest break of a transmitter", Help: "length of the break"},
		{Name: "mark", Default: "12", Unit: "µs", Mark: timeline.FromMemory, Source: "ANSI E1.11, shortest mark after break of a transmitter", Help: "length of the mark after the break"},
	},
	song: checkDMXFrame,
})

var (
	packetSlots    = setting("slots", "dmx-frame")
	packetSlotTime = setting("slot-time", "dmx-frame")
	packetBreak    = setting("break", "dmx-frame")
	packetMark     = setting("mark", "dmx-frame")
)

// packet gives how long a packet lasts as a rule's settings have it.
func packet(t *tuning) timeline.Time {
	timing := timeline.DMXTiming{Break: t.of(packetBreak).plain, Mark: t.of(packetMark).plain, Slot: t.of(packetSlotTime).plain}
	return timeline.FromMicros(timing.Packet(t.of(packetSlots).plain))
}

// nearPair is what a song's commands on one universe come to.
type nearPair struct {
	last           *timeline.Command // of the latest instant
	first, nearest *timeline.Command // later ones of pairs within one packet
	before         *timeline.Command // the one before first
	apart          timeline.Time     // of the nearest pair
	count          int
}

func checkDMXFrame(r *songRun) {
	t := r.songTune()
	if len(r.universes) == 0 || t.off {
		return
	}
	within := packet(t)
	pairs := make([]nearPair, len(r.universes))
	for i := range r.plan.Commands {
		c := &r.plan.Commands[i]
		for _, u := range r.units[c.Unit.Index].universes {
			pairs[u].next(c, within)
		}
	}
	for i := range pairs {
		if pairs[i].count > 0 {
			r.withinPacket(t, &pairs[i], r.universes[i], within)
		}
	}
}

// next takes the next command in time on the universe.
func (p *nearPair) next(c *timeline.Command, within timeline.Time) {
	if p.last != nil && c.At == p.last.At {
		return
	}
	if p.last != nil && c.At-p.last.At < within {
		p.count++
		if p.first == nil {
			p.first, p.before = c, p.last
		}
		if p.nearest == nil || c.At-p.last.At < p.apart {
			p.nearest, p.apart = c, c.At-p.last.At
		}
	}
	p.last = c
}

func (r *songRun) withinPacket(t *tuning, p *nearPair, u universe, within timeline.Time) {
	f := about(r.plan, p.first.Cue, p.first.Hit)
	f.Others = []timeline.Ref{cueRef(r.plan, p.before.Cue)}
	name := fmt.Sprintf("universe %d", u.number)
	if u.space != "" {
		name += " of " + u.space
	}
	f.Text = fmt.Sprintf("%s: %s within one packet of %s of the one before, the nearest after %s; a packet may carry both at once", name, timeline.Counted(p.count, "command"), span(within.RoundTo(timeline.EntryStep)), span(p.apart))
	f.Values = []Value{word("universe", name), count("commands", p.count), seconds("packet", within), seconds("nearest", p.apart)}
	f.Spans = []Span{{"one packet", p.before.At, p.before.At + within}, {"command", p.first.At, p.first.At}}
	f.Grounds = []Ground{r.rule.fromSetting(packetSlots, t), r.rule.fromSetting(packetSlotTime, t), r.rule.fromSetting(packetBreak, t), r.rule.fromSetting(packetMark, t)}
	f.Help = "give them the same time, or keep them " + span(roundUp(within)) + " apart"
	r.add(t, "", f)
}

// universe is one universe of an address space.
type universe struct {
	space  string
	number int
}

// universesOf lists the universes on which a unit's effect slots stand, by
// their place in a list that it lengthens.
func universesOf(u *timeline.Unit, all *[]universe) []int {
	var list []int
	for _, d := range u.Drives {
		if d.Dead || d.DeviceType == nil {
			continue
		}
		for _, s := range d.DeviceType.Find(timeline.EffectSlot, d.Wire.Output) {
			if at, ok := d.Device.Address(s); ok {
				list = addOnce(list, placeOf(all, universe{d.Device.Space, at.Universe}))
			}
		}
	}
	return list
}
