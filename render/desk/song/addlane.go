package song

import (
	"cmp"
	"errors"
	"slices"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// laneDialog adds a lane: it chooses what its cues aim at and what they do there.
type laneDialog struct {
	ids, names []string
	target     int
	role       int
	name       string
	bad        string
}

var laneRoles = []timeline.SlotRole{timeline.EffectSlot, timeline.ArmSlot, timeline.ConditionSlot, timeline.WarmUpSlot}

func (sp *Page) askLane() {
	d := &laneDialog{}
	rig := sp.work().Show.Rig
	type aim struct{ id, name string }
	var list []aim
	for _, g := range rig.Groups {
		list = append(list, aim{string(g.ID), sp.work().Show.Called(g) + "  (group)"})
	}
	for _, p := range rig.Placed {
		list = append(list, aim{string(p.ID), sp.work().Show.Called(p)})
	}
	slices.SortFunc(list, func(x, y aim) int { return cmp.Compare(x.name, y.name) })
	for _, l := range list {
		d.ids, d.names = append(d.ids, l.id), append(d.names, l.name)
	}
	sp.open(d)
}

func (d *laneDialog) draw(sp *Page) bool {
	u := sp.h.UI()
	b := u.BeginDialog("lane", "Add a lane", 480, 250)
	f := u.Form(b.Body, 90)
	if len(d.ids) == 0 {
		u.Paragraph(b.Body, render.TypeLabel, render.InkText, "The rig has no placed effects yet. Add positions, articles and placed effects under Records first ("+sp.h.Key("records")+").")
	} else {
		d.target, _ = u.Dropdown("target", f.Row("Aims at"), d.names, d.target)
		roles := make([]string, len(laneRoles))
		for i, r := range laneRoles {
			roles[i] = string(r)
		}
		d.role, _ = u.Dropdown("role", f.Row("Does"), roles, d.role)
		if e := u.TextField("name", f.Row("Name"), d.name, widget.TextSpec{Hint: "as the crew calls it", Error: d.bad}); e.Changed || e.Committed {
			d.name = e.Text
		}
	}
	why := ""
	if len(d.ids) == 0 {
		why = "there is nothing to aim at yet"
	}
	choice := b.Buttons(widget.Choice{Label: "Cancel"}, widget.Choice{Label: "Add lane", Main: true, Off: why})
	b.End()
	if choice == 1 {
		if err := d.add(sp); err != nil {
			d.bad = err.Error()
			return false
		}
		return true
	}
	return choice == 0 || b.Closed
}

func (d *laneDialog) add(sp *Page) error {
	w := sp.work()
	l := timeline.KindOf("lane").New(w.NewIDs()("lane", w.Song)).(*timeline.Lane)
	l.Name, l.Target, l.Role = d.name, timeline.ID(d.ids[d.target]), laneRoles[d.role]
	edit := page.Put(w.Song, l)
	if _, err := w.Session.Try(edit); err != nil {
		sp.h.Fail(err)
		return err
	}
	if !sp.h.Do("add lane "+page.LaneName(sp.work().Show, l), edit) {
		return errors.New("the lane was not added: the status bar says why")
	}
	w.View().Focus = l.ID
	sp.RevealLane(w.LaneAt(l.ID))
	sp.h.Log("added lane %s", l.ID)
	return nil
}
