package prefs

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
)

// prefsFile is the name of the user's settings in the state folder.
const prefsFile = "window.json"

// maxRecent is how many shows the start page remembers.
const maxRecent = 8

// MaxLead is the largest distance of taps from the sound that can be set, in ms, either way.
const MaxLead = 300

// MaxDelay is the largest output delay that can be set, in ms.
const MaxDelay = 500

// Prefs is what the window remembers of its user, and never of a show.
type Prefs struct {
	Recent   []string `json:"recent,omitempty"` // folders, latest first
	Theme    int      `json:"theme"`
	Dim      int      `json:"dim"`    // percent, of the theme Night
	Factor   int      `json:"factor"` // percent
	DelayMS  int      `json:"delay_ms"`
	LeadMS   int      `json:"tap_lead_ms,omitempty"`   // how much later than the sound the user taps
	SpreadMS int      `json:"tap_spread_ms,omitempty"` // of the taps that both were measured by
	Grid     int      `json:"grid"`                    // a step of the grid, coarsest first
	Snap     bool     `json:"snap"`
	SnapTo   string   `json:"snap_to,omitempty"`   // beats, hits or both; "" = beats
	SnapHits string   `json:"snap_hits,omitempty"` // the weakest that are snapped to; "" = middle
	Lane     int      `json:"lane_height,omitempty"`
	Side     bool     `json:"side_hidden,omitempty"`
	Still    bool     `json:"reduced_motion,omitempty"`
	NoStage  bool     `json:"stage_hidden,omitempty"` // in the dock
	Dock     int      `json:"dock_width,omitempty"`   // logical; 0 = by the window's width
	Last     string   `json:"last_folder,omitempty"`  // of the browser
	Units    string   `json:"units,omitempty"`        // metres or feet, on the screen; "" = as the show has them
	Bare     bool     `json:"bare,omitempty"`         // new shows begin without the starter stock and rig
	Name     string   `json:"name,omitempty"`         // of the user, as it stood under the last acceptance

	Nights map[string]string `json:"nights,omitempty"` // by folder, the night that was chosen last

	Folder string `json:"-"` // where they are kept; "" = nowhere
}

// Load reads the settings; what cannot be read is as at the first start.
func Load(dir string) Prefs {
	p := Prefs{Dim: 100, Factor: 100, Grid: 2, Snap: true}
	if dir != "" {
		if b, err := os.ReadFile(filepath.Join(dir, prefsFile)); err == nil {
			_ = json.Unmarshal(b, &p) // a damaged file is as good as none
		}
	}
	p.Factor = min(max(p.Factor, 80), 250)
	p.Dim = min(max(p.Dim, 20), 100)
	p.Grid = max(p.Grid, 0)
	p.Theme = max(p.Theme, 0)
	p.LeadMS = min(max(p.LeadMS, -MaxLead), MaxLead)
	p.Folder = dir
	return p
}

// Save writes the settings. That it may fail costs comfort only.
func (p *Prefs) Save() {
	if p.Folder == "" {
		return
	}
	b, err := json.MarshalIndent(p, "", "  ")
	if err == nil && os.MkdirAll(p.Folder, 0o700) == nil {
		next := filepath.Join(p.Folder, prefsFile+".new")
		if os.WriteFile(next, b, 0o600) == nil {
			_ = os.Rename(next, filepath.Join(p.Folder, prefsFile))
		}
	}
}

// Opened remembers a show.
func (p *Prefs) Opened(dir string) {
	if abs, err := filepath.Abs(dir); err == nil {
		dir = abs
	}
	p.Recent = slices.DeleteFunc(p.Recent, func(d string) bool { return d == dir })
	p.Recent = slices.Insert(p.Recent, 0, dir)
	p.Recent = p.Recent[:min(len(p.Recent), maxRecent)]
	p.Save()
}

// PlansFor remembers which night of a show is planned for; "" is the tour.
func (p *Prefs) PlansFor(dir, night string) {
	if abs, err := filepath.Abs(dir); err == nil {
		dir = abs
	}
	if p.Nights[dir] == night {
		return
	}
	if p.Nights == nil {
		p.Nights = map[string]string{}
	}
	p.Nights[dir] = night
	if night == "" {
		delete(p.Nights, dir)
	}
	p.Save()
}

// Planned gives the night of a show that was planned for last, or "".
func (p *Prefs) Planned(dir string) string {
	if abs, err := filepath.Abs(dir); err == nil {
		dir = abs
	}
	return p.Nights[dir]
}
