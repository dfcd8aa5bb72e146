package rule

import "emberbeat/timeline"

// GasUsed gives the CO2 in kg that a plan lets into the room, as the rule
// gas-in-room counts it. Of songs that are alternatives the one that uses most
// counts.
func GasUsed(p *timeline.Plan) float64 {
	used := make([]int64, len(p.Songs))
	for i := range p.Songs {
		for k := range p.Songs[i].Commands {
			if c := &p.Songs[i].Commands[k]; givesCO2(c.Article) {
				used[i] += c.Draw()
			}
		}
	}
	var all int64
	for i, plays := range timeline.Worst(p.Choices(), used) {
		if plays {
			all += used[i]
		}
	}
	return float64(all) / 1e6
}
