package intake

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// readMode places the channels of a mode: those of a geometry that stands in
// the device once, and those of one that is referred to, again for each
// reference.
func readMode(all *gdtfGeometry, text *gdtfModeText) (*GDTFMode, error) {
	root := all.part(text.Geometry)
	if root == nil {
		return nil, fmt.Errorf("its geometry %q is none of the device's top ones", text.Geometry)
	}
	p := &gdtfPlacer{all: all, places: map[string][]gdtfPlace{}}
	if err := p.walk(root, nil, 0); err != nil {
		return nil, err
	}
	m := &GDTFMode{Name: text.Name}
	m.Aim, m.NoAim = all.aim(root)
	for i := range text.Channels {
		if err := m.put(p, &text.Channels[i]); err != nil {
			return nil, fmt.Errorf("channel %d (%s of %q): %w", i+1, text.Channels[i].attribute(), text.Channels[i].Geometry, err)
		}
	}
	slices.SortStableFunc(m.Channels, func(a, b GDTFChannel) int {
		return cmp.Or(cmp.Compare(a.Break, b.Break), cmp.Compare(slices.Min(a.Addresses), slices.Min(b.Addresses)))
	})
	return m, m.check()
}

// part finds a geometry that stands directly in another.
func (g *gdtfGeometry) part(name string) *gdtfGeometry {
	for i := range g.Parts {
		if g.Parts[i].Name == name && g.Parts[i].XMLName.Local != "GeometryReference" {
			return &g.Parts[i]
		}
	}
	return nil
}

// gdtfPlace is one standing of a geometry in the device.
type gdtfPlace struct {
	name   string      // of the reference, "" where it stands itself
	breaks []gdtfBreak // of the reference
}

type gdtfPlacer struct {
	all    *gdtfGeometry
	places map[string][]gdtfPlace // by the name of the geometry
	count  int
}

// walk notes where each geometry below one stands. References lead to a top
// geometry, whose parts then stand where the reference does.
func (p *gdtfPlacer) walk(g *gdtfGeometry, at *gdtfPlace, depth int) error {
	switch p.count++; {
	case depth > maxGDTFDepth:
		return fmt.Errorf("geometry %q lies more than %d deep, or in itself", g.Name, maxGDTFDepth)
	case p.count > maxGDTFChannels:
		return fmt.Errorf("it has more than %d geometries", maxGDTFChannels)
	}
	here := gdtfPlace{}
	if at != nil {
		here = *at
	}
	p.places[g.Name] = append(p.places[g.Name], here)
	for i := range g.Parts {
		part := &g.Parts[i]
		if part.XMLName.Local != "GeometryReference" {
			if err := p.walk(part, at, depth+1); err != nil {
				return err
			}
			continue
		}
		to := p.all.part(part.Refers)
		if to == nil {
			return fmt.Errorf("reference %q leads to geometry %q, which is none of the device's top ones", part.Name, part.Refers)
		}
		if err := p.walk(to, &gdtfPlace{part.Name, part.Breaks}, depth+1); err != nil {
			return err
		}
	}
	return nil
}

// put places one channel wherever its geometry stands.
func (m *GDTFMode) put(p *gdtfPlacer, text *gdtfChannelText) error {
	offsets, err := text.offsets()
	if err != nil {
		return err
	}
	if len(offsets) == 0 {
		m.Notes = append(m.Notes, fmt.Sprintf("%s of %q has no address and is left out.", text.attribute(), text.Geometry))
		return nil
	}
	places := p.places[text.Geometry]
	if len(places) == 0 {
		m.Notes = append(m.Notes, fmt.Sprintf("%s of %q is left out: that geometry does not stand in the mode's device.", text.attribute(), text.Geometry))
		return nil
	}
	for i, place := range places {
		c, unread, err := text.channel(place, offsets)
		if err != nil {
			return err
		}
		if unread != nil && i == 0 {
			m.Notes = append(m.Notes, fmt.Sprintf("What the values of %s of %q do is left out: %v.", text.attribute(), text.Geometry, unread))
		}
		if len(places) > 1 {
			c.Instance = i + 1
		}
		if m.Channels = append(m.Channels, c); len(m.Channels) > maxGDTFChannels {
			return fmt.Errorf("the mode has more than %d channels", maxGDTFChannels)
		}
	}
	return nil
}

// offsets are the relative addresses of a channel's bytes; none for a channel
// that has no address.
func (t *gdtfChannelText) offsets() ([]int, error) {
	if s := strings.TrimSpace(t.Offset); s == "" || s == "None" {
		return nil, nil
	}
	var list []int
	for _, s := range strings.Split(t.Offset, ",") {
		n, err := strconv.Atoi(strings.TrimSpace(s))
		if err != nil || n < 1 || n > 512 {
			return nil, fmt.Errorf("its Offset %q must be addresses from 1 to 512 with commas, the most significant byte first", t.Offset)
		}
		list = append(list, n)
	}
	if len(list) > 4 {
		return nil, fmt.Errorf("its Offset %q has %d bytes; up to 4 are read", t.Offset, len(list))
	}
	return list, nil
}

func (t *gdtfChannelText) attribute() string {
	for _, l := range t.Logical {
		if l.Attribute != "" {
			return l.Attribute
		}
	}
	return "no attribute"
}

// channel is the channel where its geometry stands at one place. unread says why it
// has no ranges of values.
func (t *gdtfChannelText) channel(place gdtfPlace, offsets []int) (c GDTFChannel, unread, err error) {
	c = GDTFChannel{Break: 1, Geometry: t.Geometry, Attribute: t.attribute()}
	if place.name != "" {
		c.Geometry = place.name
	}
	overwrite := strings.TrimSpace(t.Break) == "Overwrite"
	if t.Break != "" && !overwrite {
		n, err := strconv.Atoi(strings.TrimSpace(t.Break))
		if err != nil || n < 1 || n > 255 {
			return c, nil, fmt.Errorf("its DMXBreak %q must be a number from 1 to 255, or Overwrite", t.Break)
		}
		c.Break = n
	}
	shift, err := place.shift(&c, overwrite)
	if err != nil {
		return c, nil, err
	}
	for _, o := range offsets {
		c.Addresses = append(c.Addresses, o+shift)
		if o+shift < 1 || o+shift > 512 {
			return c, nil, fmt.Errorf("at %q it stands at address %d; a break has 1 to 512", c.Geometry, o+shift)
		}
	}
	unread, err = t.values(&c)
	return c, unread, err
}

// shift is what a reference adds to the addresses of a channel's break. With
// Overwrite the last break of the reference gives the channel its own.
func (p gdtfPlace) shift(c *GDTFChannel, overwrite bool) (int, error) {
	if p.name == "" {
		if overwrite {
			return 0, fmt.Errorf("its DMXBreak is Overwrite, and no reference leads to its geometry")
		}
		return 0, nil
	}
	for i := len(p.breaks) - 1; i >= 0; i-- {
		b, offset, err := p.breaks[i].read()
		if err != nil {
			return 0, fmt.Errorf("reference %q: %w", p.name, err)
		}
		if overwrite {
			c.Break = b
			return offset - 1, nil
		}
		if b == c.Break {
			return offset - 1, nil
		}
	}
	return 0, fmt.Errorf("reference %q says no DMXOffset for break %d", p.name, c.Break)
}

// read gives the number of a break and the address of its first channel.
func (b gdtfBreak) read() (number, offset int, err error) {
	number, offset = 1, 1
	if b.Break != "" {
		if number, err = strconv.Atoi(strings.TrimSpace(b.Break)); err != nil || number < 1 || number > 255 {
			return 0, 0, fmt.Errorf("its DMXBreak %q must be a number from 1 to 255", b.Break)
		}
	}
	if b.Offset != "" {
		if offset, err = strconv.Atoi(strings.TrimSpace(b.Offset)); err != nil || offset < 1 || offset > 512 {
			return 0, 0, fmt.Errorf("its DMXOffset %q must be an address from 1 to 512", b.Offset)
		}
	}
	return number, offset, nil
}

// check finds two channels at one address.
func (m *GDTFMode) check() error {
	taken := map[[2]int]string{}
	for _, c := range m.Channels {
		for _, a := range c.Addresses {
			key, name := [2]int{c.Break, a}, fmt.Sprintf("%s of %q", c.Attribute, c.Geometry)
			if other, ok := taken[key]; ok {
				return fmt.Errorf("%s and %s both stand at address %d of break %d", other, name, a, c.Break)
			}
			taken[key] = name
		}
	}
	return nil
}

// Footprint gives the highest address of each break, by the number of the break.
func (m *GDTFMode) Footprint() map[int]int {
	f := map[int]int{}
	for _, c := range m.Channels {
		f[c.Break] = max(f[c.Break], slices.Max(c.Addresses))
	}
	return f
}
