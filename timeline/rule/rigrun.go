package rule

import "emberbeat/timeline"

// rigRun is a rule at work on what stands on stage and how it is driven.
type rigRun struct {
	*env
	plan     *timeline.Plan
	rule     *Rule
	settings *settings
	found    []Finding
	index    map[mergeKey]int
}

// checkRig runs every rule that depends on rig, stock, venue and night alone.
func (e *env) checkRig(p *timeline.Plan) []Finding {
	var all []Finding
	for i := range table {
		if table[i].rig == nil || e.settings[i].silent() {
			continue
		}
		r := &rigRun{env: e, plan: p, rule: &table[i], settings: &e.settings[i]}
		table[i].rig(r)
		all = append(all, finish(r.found)...)
	}
	return all
}

// tune gives the tuning for an article at a unit; either may be nil.
func (r *rigRun) tune(u *timeline.Unit, a *timeline.Article) *tuning { return r.settings.at(nil, u, a) }

// add takes a finding under a tuning. See songRun.add for who.
func (r *rigRun) add(t *tuning, who string, f Finding) {
	if t.off {
		return
	}
	f.Rule, f.Severity = r.rule.Name, t.severity
	r.found = merge(r.found, &r.index, who, f)
}

// name gives what the crew calls a record of the plan's show.
func (r *rigRun) name(rec timeline.Record) string { return r.plan.Called(rec) }

func rigRef(kind string, id timeline.ID) timeline.Ref { return timeline.Ref{Kind: kind, ID: id} }
