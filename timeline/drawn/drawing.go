package drawn

import (
	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

// Drawing is what a file of another program holds, in a frame of its own: metres,
// right-handed, Z up. Where its origin is and whereto its axes point, only a user
// can say.
type Drawing struct {
	Things []Thing // in the order of the file
	Notes  []string
}

// Thing is one object of a drawing.
type Thing struct {
	Name    string
	Number  string   // that its users call it by, "" = none
	Kind    string   // what it is drawn as: "fixture", "truss"
	Layer   string   // "" = none
	Groups  []string // that it is part of, the outermost first
	Purpose string   // "fog", "effect" or "pyro" where the drawing says so; "" = it does not

	At     figure.Vec // m
	NoAt   string     // why At is not known; "" = it is
	Aim    figure.Vec // the direction in which it lets out what it has; length 1
	NoAim  string     // why Aim is not known; "" = it is
	Type   *Type      // nil where it is no device
	Starts []timeline.Patch
	NoAddr string // why Starts is empty, or cannot be used; "" = it can
}

// Type is a device type that a drawing brings, in one mode.
type Type struct {
	Name   string
	Also   []string             // what else it may be called by
	Device *timeline.DeviceType // without an id; nil where there is none
	Why    string               // there is none
	Notes  []string             // what of it could not be taken as it is
}

// fixture is the Kind of things that can be devices.
const fixture = "fixture"

// Fixture is a thing of a drawing that can be a device.
func (t *Thing) Fixture() bool { return t.Kind == fixture }

// typeName is what its type is called, "" for none.
func (t *Thing) typeName() string {
	if t.Type == nil {
		return ""
	}
	return t.Type.Name
}
