package rule

import (
	"emberbeat/timeline"
	"emberbeat/timeline/units"
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
	spaces    *spaces
	show      *timeline.Show // of which rig, stock and settings are those of the key
	loads     map[outputOf]timeline.CircuitLoad
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
	sets     int
	firstSet **timeline.RuleSet // in the same way
	told     units.System       // in which figures are worded
}

func keyOf(p *timeline.Plan) envKey {
	k := envKey{p.Show.Stock, p.Show.Rig, p.Units, p.Night, p.Venue, p.Show.Head.Lock, p.Show.Head.ID, len(p.Show.Settings), nil, len(p.Show.RuleSets), nil, p.Show.Told()}
	if k.settings > 0 {
		k.first = &p.Show.Settings[0]
	}
	if k.sets > 0 {
		k.firstSet = &p.Show.RuleSets[0]
	}
	return k
}

// name gives what the crew calls a record of rig or stock.
func (e *env) name(r timeline.Record) string { return e.key.units.Called(r) }

func (e *env) holdsFor(p *timeline.Plan) bool { return e.key == keyOf(p) }

func newEnv(p *timeline.Plan) *env {
	e := &env{key: keyOf(p), settings: make([]settings, len(table)), units: unitInfos(p.Units), feeds: timeline.FeedsOf(p.Show.Rig, p.Units)}
	for i := range table {
		e.settings[i] = settingsOf(&table[i], p.Show.Setting(table[i].Name), e.key.told)
	}
	e.spaces = newSpaces(p)
	e.show, e.loads = p.Show, map[outputOf]timeline.CircuitLoad{}
	e.heat = newHeatField(p.Venue, p.Units, e.spaces, e.settings[indexOf(heatRule.Name)].at(nil, nil, nil).of(heatHead).plain)
	for i, u := range p.Units.All {
		e.units[i].universes = universesOf(u, &e.universes)
	}
	return e
}

// unitInfo is what rules need to know about a unit again and again.
type unitInfo struct {
	live    bool   // at least one drive is not dead
	needs   []need // slots that must be on for its commands
	outputs []int  // places in Units.Shared of its outputs that other units share
	igniter bool   // an igniter output fires it: what hangs there is gone after one command

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
		for _, d := range unit.Drives {
			if !d.Dead {
				infos[i].live = true
				infos[i].needs = append(infos[i].needs, needsOf(d)...)
				infos[i].igniter = infos[i].igniter || d.BankType != nil && d.BankType.Kind == timeline.IgniterBank
			}
		}
	}
	for o := range u.Shared {
		for _, unit := range u.Shared[o].Units {
			infos[unit.Index].outputs = append(infos[unit.Index].outputs, o)
		}
	}
	return infos
}

func needsOf(d timeline.Drive) []need {
	var needs []need
	for _, n := range d.Needs() {
		needs = append(needs, need{n.Role, n.Device, n.Slot, n.Lead, n.Type})
	}
	return needs
}
