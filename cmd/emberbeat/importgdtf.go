package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"emberbeat/audio"
	"emberbeat/shows"
	"emberbeat/shows/intake"
	"emberbeat/timeline"
)

// gdtfFlags choose what of a GDTF file becomes a device type.
type gdtfFlags struct {
	mode  string
	id    string
	slots []string
}

func (f *gdtfFlags) flags(c *cobra.Command) {
	g := c.Flags()
	g.StringVar(&f.mode, "mode", "", "mode of a GDTF device (needed where it has several)")
	g.StringVar(&f.id, "id", "", "id of the new device type (default: a random one)")
	g.StringArrayVar(&f.slots, "slot", nil, `what a slot of a GDTF device does, as device types write it: "1.3 role=arm on=64..127"; once for each`)
}

func (t *talk) importGDTF(dir, file string, im *importing) error {
	typ, err := t.readGDTF(file, &im.gdtf)
	if err != nil {
		return err
	}
	return t.change(dir, "import a device type", im.dry, func(p *timeline.Plan) (timeline.Edit, error) {
		if typ.ID = timeline.ID(im.gdtf.id); typ.ID == "" {
			typ.ID = shows.NewIDFor(p.Show, "devicetype", "")
		}
		if p.Show.Stock.DeviceType(typ.ID) != nil {
			return nil, fmt.Errorf("the show has a device type %q already; choose another --id", typ.ID)
		}
		return func(d *timeline.Draft) error {
			d.Put("", typ)
			return nil
		}, nil
	})
}

func (t *talk) readGDTF(file string, g *gdtfFlags) (*timeline.DeviceType, error) {
	f, err := audio.OpenFile(file)
	if err != nil {
		return nil, fileFailure(err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, fileFailure(err)
	}
	device, err := intake.ReadGDTF(f, info.Size())
	if err != nil {
		return nil, fileFailure(fmt.Errorf("%s: %w", file, err))
	}
	mode, err := device.Mode(g.mode)
	if err != nil {
		return nil, hint(usage(fmt.Errorf("%s: %w", file, err)), "add --mode with the name of one")
	}
	typ, notes, err := device.DeviceType(mode, g.slots)
	if err != nil {
		return nil, usage(fmt.Errorf("%s: %w", file, err))
	}
	for _, note := range notes {
		t.warn("%s: %s", file, note)
	}
	for i := range mode.Channels {
		if values := mode.Channels[i].Values(); values != "" {
			t.say("values of %s, %s: %s", mode.Channels[i].Attribute, mode.Channels[i].Geometry, values)
		}
	}
	return typ, nil
}
