package rule

import "emberbeat/timeline"

// summary is what rules that see the whole set need of a song. It is made once
// for a song's plan.
type summary struct {
	busy   []busy          // aligned with SongPlan.Uses
	plays  []timeline.Play // by unit, then by first use
	single []int32         // indices of the commands that use something up: of single-use articles, and of what an igniter output fires, by time
	duty   []limitedUse    // units with a duty limit, as SongPlan.Uses has them
	warm   []int32         // indices into SongPlan.Uses of units that must warm up
	drawn  []int64         // milligrams taken from each supply of the rig
	puffs  []puff          // CO2, where the venue's room is known
	gas    int64           // milligrams of all puffs
	looks  []look          // large ones, by their first command

	unpowered []unpowered // banks whose current nobody can compare
}

// busy says which command of a song frees a unit last.
type busy struct {
	free, freeRounded       timeline.Time
	command, commandRounded int32 // indices into SongPlan.Commands
}

func (e *env) summarize(p *timeline.SongPlan) *summary {
	s := &summary{busy: make([]busy, len(p.Uses)), plays: p.Plays()}
	rest := s.plays
	for i := range p.Uses {
		s.busy[i] = busyOf(p, &p.Uses[i])
		n := 0
		for n < len(rest) && rest[n].Unit == p.Uses[i].Unit {
			n++
		}
		s.sortOut(p, int32(i), rest[:n])
		rest = rest[n:]
	}
	for i := range p.Commands {
		if c := &p.Commands[i]; c.Article.SingleUse || e.units[c.Unit.Index].igniter {
			s.single = append(s.single, int32(i))
		}
	}
	s.puffs = e.puffs(p)
	for i := range s.puffs {
		s.gas += s.puffs[i].mg
	}
	s.looks = looksOf(p, e.leastLook(p))
	s.drawn = e.feeds.Drawn(p)
	s.unpowered = e.unpowered(p)
	return s
}

// sortOut notes what a unit's articles ask for.
func (s *summary) sortOut(p *timeline.SongPlan, use int32, plays []timeline.Play) {
	duty, warm := limitedUse{use: use}, false
	for i := range plays {
		a := plays[i].Article
		if limited(a) {
			duty.window = max(duty.window, a.DutyWindow)
		}
		warm = warm || a.WarmUp > 0
	}
	if duty.window > 0 {
		duty.longest = longestOpen(p, p.Uses[use].Commands)
		s.duty = append(s.duty, duty)
	}
	if warm {
		s.warm = append(s.warm, use)
	}
}

// busyOf finds when a unit is free again after all its commands of the song.
func busyOf(p *timeline.SongPlan, u *timeline.UnitUse) busy {
	first := &p.Commands[u.Commands[0]]
	b := busy{first.Free(), first.FreeRounded(), u.Commands[0], u.Commands[0]}
	for _, k := range u.Commands[1:] {
		c := &p.Commands[k]
		if t := c.Free(); t > b.free {
			b.free, b.command = t, k
		}
		if t := c.FreeRounded(); t > b.freeRounded {
			b.freeRounded, b.commandRounded = t, k
		}
	}
	return b
}
