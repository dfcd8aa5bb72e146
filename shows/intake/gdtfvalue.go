package intake

import (
	"fmt"
	"strconv"
	"strings"
)

// values reads what the values of a channel do: its default, and the ranges of
// its functions and of the sets that divide them. unread says why the ranges are
// left out, all of them: where one is not known, the one before would seem to go
// on.
func (t *gdtfChannelText) values(c *GDTFChannel) (unread, err error) {
	width := c.Width()
	first := t.Default
	for _, l := range t.Logical {
		for i, f := range l.Functions {
			if first == "" && i == 0 {
				first = f.Default
			}
			if err := c.addFunction(l, f, width); err != nil && unread == nil {
				unread = err
			}
		}
	}
	if unread != nil {
		c.Functions = nil
	}
	top := 1<<(8*width) - 1
	for i := range c.Functions {
		if c.Functions[i].To = top; i+1 < len(c.Functions) {
			c.Functions[i].To = max(c.Functions[i+1].From-1, c.Functions[i].From)
		}
	}
	c.Default, err = dmxValue(first, width)
	return unread, err
}

func (c *GDTFChannel) addFunction(l gdtfLogical, f gdtfFunction, width int) error {
	from, err := dmxValue(f.From, width)
	if err != nil {
		return err
	}
	name := f.Name
	if name == "" {
		name = f.Attribute
	}
	if name == "" {
		name = l.Attribute
	}
	if len(f.Sets) == 0 {
		c.Functions = append(c.Functions, GDTFFunction{Name: name, From: from})
		return nil
	}
	for _, set := range f.Sets {
		from, err := dmxValue(set.From, width)
		if err != nil {
			return err
		}
		both := name
		if set.Name != "" {
			both += " " + set.Name
		}
		c.Functions = append(c.Functions, GDTFFunction{Name: both, From: from})
	}
	return nil
}

// dmxValue reads a value with its number of bytes, `128/1`, at the resolution
// of so many bytes. A value of fewer bytes fills the others with copies of
// itself, or with nought after an s, `128/1s` (DIN SPEC 15800, DMXValue). ""
// and "None" are 0.
func dmxValue(s string, width int) (int, error) {
	if s = strings.TrimSpace(s); s == "" || s == "None" {
		return 0, nil
	}
	number, of, ok := strings.Cut(s, "/")
	of, shifted := strings.CutSuffix(of, "s")
	v, err := strconv.ParseUint(number, 10, 32)
	bytes, errBytes := strconv.Atoi(of)
	if ok && err == nil && v == 0 && errBytes == nil {
		return 0, nil // in whatever number of bytes; some files have it as 0/255
	}
	if !ok || err != nil || errBytes != nil || bytes < 1 || bytes > 4 || v >= 1<<(8*bytes) {
		return 0, fmt.Errorf("%q must be a value and its number of bytes, such as 128/1", s)
	}
	switch {
	case bytes > width:
		v >>= 8 * (bytes - width)
	case bytes < width && shifted:
		v <<= 8 * (width - bytes)
	case bytes < width:
		one := v
		for range width - bytes {
			v = v<<8 | one
		}
	}
	return int(v), nil
}
