package rule

import (
	"fmt"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "wrong-article",
	Summary: "cues ask a unit for another article than stands there",
	Reason: "A lane or cue may name an article of its own, and a night may swap it. What is played is what was placed: lead, open time and load " +
		"would all be those of something else.",
	Scope:    WholeSet,
	Severity: Error,
	set:      checkWrongArticle,
})

var _ = enter(Rule{
	Name:     "wrong-control",
	Summary:  "a unit is wired to a kind of output that cannot drive its article",
	Reason:   "An igniter needs an igniter output, a valve a relay or slots. An igniter on a relay has no tested current, slots fire nothing by themselves.",
	Scope:    WholeSet,
	Severity: Error,
	set:      checkWrongControl,
})

func checkWrongArticle(r *setRun) {
	for _, uses := range r.merged {
		for i := range uses {
			use := &uses[i]
			stands := use.unit.Article
			if stands == use.article || stands == nil && use.unit.Placed.Article == "" {
				continue
			}
			name := "an article that is gone (" + string(use.unit.Placed.Article) + ")"
			if stands != nil {
				name = r.name(stands)
			}
			f := r.firstUse(rigRef("placed", use.unit.Placed.ID), use)
			f.Text = fmt.Sprintf("%s: %s of the set ask for %s, and %s stands there", use.unit.Name, often(use.cues, use.presses), r.name(use.article), name)
			f.Values = []Value{word("asked", string(use.article.ID)), word("stands", string(use.unit.Placed.Article))}
			f.Values = append(f.Values, withPresses(use.presses, count("commands", use.cues))...)
			f.Help = "place " + r.name(use.article) + " there, or let the lane and its cues play what stands there"
			f.Fix = fixField("place "+r.name(use.article)+" there", f.Ref, "article", string(use.article.ID))
			r.add(r.tune(use.song, use.unit, use.article), use.song, "", f)
		}
	}
}

func checkWrongControl(r *setRun) {
	for _, uses := range r.merged {
		for i := range uses {
			use := &uses[i]
			for _, d := range use.unit.Drives {
				if is := controlOf(d); is != "" && is != use.article.Control {
					r.wrongControl(use, d, is)
				}
			}
		}
	}
}

func (r *setRun) wrongControl(use *setUse, d timeline.Drive, is timeline.Control) {
	f := r.firstUse(rigRef("wire", d.Wire.ID), use)
	f.Text = fmt.Sprintf("%s: %s needs %s and is wired to %s, which is %s", use.unit.Name, r.name(use.article),
		controlName(use.article.Control), d.Label(timeline.EffectSlot), controlName(is))
	f.Values = []Value{word("needs", string(use.article.Control)), word("is", string(is))}
	f.Help = "wire it to " + controlName(use.article.Control)
	r.add(r.tune(use.song, use.unit, use.article), use.song, "", f)
}

// controlOf says what kind of output a drive is; "" where its type is lost.
func controlOf(d timeline.Drive) timeline.Control {
	switch {
	case d.BankType != nil && d.BankType.Kind == timeline.IgniterBank:
		return timeline.IgniterControl
	case d.BankType != nil:
		return timeline.RelayControl
	case d.DeviceType != nil:
		return timeline.SlotControl
	}
	return ""
}

func controlName(c timeline.Control) string {
	switch c {
	case timeline.IgniterControl:
		return "an igniter output"
	case timeline.RelayControl:
		return "a relay output"
	}
	return "slots of a device"
}
