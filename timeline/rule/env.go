package rule

import (
	"emberbeat/timeline"
)

// env is what all songs of a plan share and no cue can change: the rules'
// tuning, and the rig seen the way the rules need it. It holds as long as the
// parts of the show it was made from are the very same.
type env struct {
	key      envKey
	settings []settings // by place in table
	units    []unitInfo // by Unit.Index
	feeds    *timeline.Feeds

	universes []universe // that any unit's effect slots stand on
	heat      *heatField
}

type envKey struct {
	stock    *timeline.Stock
	rig      *timeline.Rig
	units    *timeline.Units
	night    *timeline.Night
	venue    *timeline.Venue
	lock     timeline.Time
	show     timeline.ID
	settings int                // how many
	first    **timeline.Setting // and where they stand: a changed setting is a new slice
}

func keyOf(p *timeline.Plan) envKey {
	k := envKey{p.Show.Stock, p.Show.Rig, p.Units, p.Night, p.Venue, p.Show.Head.Lock, p.Show.Head.ID, len(p.Show.Settings), nil}
	if k.settings > 0 {
		k.first = &p.Show.Settings[0]
	}
	return k
}

func (e *env) holdsFor(p *timeline.Plan) bool { return e.key == keyOf(p) }

func newEnv(p *timeline.Plan) *env {
	e := &env{key: keyOf(p), settings: make([]settings, len(table)), units: unitInfos(p.Units), feeds: timeline.FeedsOf(p.Show.Rig, p.Units)}
	for i := range table {
		e.settings[i] = settingsOf(&table[i], p.Show.Setting(table[i].Name))
	}
	e.heat = newHeatField(p.Venue, p.Units, e.settings[indexOf(heatRule.Name)].at(nil, nil, nil).of(heatHead).plain)
	for i, u := range p.Units.All {
		e.units[i].universes = universesOf(u, &e.universes)
	}
	return e
}

// unitInfo is what rules need to know about a unit again and again.
type unitInfo struct {
	live    bool   // at least one drive is not dead
	needs   []need // slots that must be on for its commands
	outputs []int  // dense numbers of its live outputs that other units share
	circuit int    // units that fire together through a shared igniter output have one number

	universes []int // places in env.universes of its effect slots
}

// need is a slot that must be on before and during a command.
type need struct {
	role   timeline.SlotRole // arm or condition
	device *timeline.Device
	slot   timeline.Slot
	lead   timeline.Time // so long before the command; of the device type
	typ    *timeline.DeviceType
}

func unitInfos(u *timeline.Units) []unitInfo {
	infos := make([]unitInfo, len(u.All))
	for i, unit := range u.All {
		infos[i].circuit = i
		for _, d := range unit.Drives {
			if !d.Dead {
				infos[i].live = true
				infos[i].needs = append(infos[i].needs, needsOf(d)...)
			}
		}
	}
	shareOutputs(u, infos)
	return infos
}

func needsOf(d timeline.Drive) []need {
	if d.DeviceType == nil {
		return nil
	}
	var needs []need
	for _, s := range d.DeviceType.Find(timeline.ArmSlot, d.Wire.Output) {
		needs = append(needs, need{timeline.ArmSlot, d.Device, s, d.DeviceType.ArmLead, d.DeviceType})
	}
	for _, s := range d.DeviceType.Find(timeline.ConditionSlot, d.Wire.Output) {
		needs = append(needs, need{timeline.ConditionSlot, d.Device, s, d.DeviceType.Condition, d.DeviceType})
	}
	return needs
}

// output is one output of a bank, or one head of a device.
type output struct {
	unit   timeline.ID
	number int
}

// shareOutputs numbers the outputs that drive more than one unit, and joins
// units that an igniter output fires together.
func shareOutputs(u *timeline.Units, infos []unitInfo) {
	users := map[output][]int{}
	igniter := map[output]bool{}
	var order []output
	for i, unit := range u.All {
		for _, d := range unit.Drives {
			if d.Dead {
				continue
			}
			o := output{d.Wire.Driver, d.Wire.Output}
			if users[o] == nil {
				order = append(order, o)
			}
			users[o] = append(users[o], i)
			igniter[o] = d.BankType != nil && d.BankType.Kind == timeline.IgniterBank
		}
	}
	shared := 0
	for _, o := range order {
		if len(users[o]) < 2 {
			continue
		}
		for _, i := range users[o] {
			infos[i].outputs = append(infos[i].outputs, shared)
			if igniter[o] {
				joinCircuits(infos, users[o][0], i)
			}
		}
		shared++
	}
}

// joinCircuits gives two units' circuits one number, the smaller.
func joinCircuits(infos []unitInfo, a, b int) {
	from, to := infos[b].circuit, infos[a].circuit
	if from < to {
		from, to = to, from
	}
	for i := range infos {
		if infos[i].circuit == from {
			infos[i].circuit = to
		}
	}
}
