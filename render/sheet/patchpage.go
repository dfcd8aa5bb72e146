package sheet

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// patchSheet makes pages of a PatchSheet.
type patchSheet struct{ *load.PatchSheet }

// Printed gives the patch sheet as pages: each universe with its blocks, then its
// slots, then the banks.
func (s patchSheet) Printed() *paper.Sheet {
	sh := titled(&s.Head, "Patch sheet")
	sh.Foot = s.DMX + " " + sh.Foot
	for i := range s.Universes {
		u := &s.Universes[i]
		sh.Parts = append(sh.Parts, patchUniverseBlocksPart(u), patchUniverseSlotsPart(u))
	}
	if len(s.Banks) > 0 {
		sh.Parts = append(sh.Parts, s.banksPart())
	}
	if len(s.Unpatched) > 0 {
		sh.Parts = append(sh.Parts, paper.Part{Heading: "Without an address", Notes: s.Unpatched})
	}
	if len(sh.Parts) == 0 {
		sh.Parts = []paper.Part{{Heading: "No devices and no banks", Notes: []string{"The rig has nothing to patch."}}}
	}
	return sh
}

// WriteCSV writes the patch sheet after RFC 4180, part by part as it is printed.
func (s patchSheet) WriteCSV(w io.Writer) error {
	return writeParts(w, "patch sheet", s.Head, append([]paper.Part{{Heading: "DMX512", Notes: []string{s.DMX}}}, s.Printed().Parts...))
}

func patchUniverseName(u *load.PatchUniverse) string {
	text := fmt.Sprintf("Universe %d", u.Universe)
	if u.Space != "" {
		text += " of " + u.Space
	}
	return text
}

func patchUniverseBlocksPart(u *load.PatchUniverse) paper.Part {
	first := (u.Universe-1)*512 + 1
	next := "full"
	if u.Free > 0 {
		next = fmt.Sprintf("%s free, the first at %d.%d", timeline.Counted(u.Free, "slot"), u.Universe, u.NextFree)
	}
	p := paper.Part{Heading: patchUniverseName(u), Notes: []string{fmt.Sprintf("running numbers %d to %d · where universes are counted from 0 it is %d, as net:sub:universe %s · multicast group %s (ANSI E1.31) · %s", first, first+511, u.Universe-1,
		timeline.NetAddress(u.Universe), timeline.MulticastGroup(u.Universe), next)},
		Columns: columns("device", "type", "position", ">block", ">start", ">running start", ">end", ">running end", ">slots", "note")}
	for i := range u.Blocks {
		b := &u.Blocks[i]
		p.Rows = append(p.Rows, paper.Row{Cells: []string{b.DeviceName, b.Type, b.Position, strconv.Itoa(b.Block), b.Start, strconv.Itoa(b.From), b.End, strconv.Itoa(b.To),
			strconv.Itoa(b.Slots), strings.Join(b.Notes, ", ")}})
	}
	return p
}

func patchUniverseSlotsPart(u *load.PatchUniverse) paper.Part {
	p := paper.Part{Heading: patchUniverseName(u) + ", slot by slot",
		Columns: columns(">address", ">running", "device", ">slot", "role", "on", ">off", "serves", "name")}
	for i := range u.Slots {
		s := &u.Slots[i]
		address := s.Address
		if s.Wide {
			address += " and next"
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{address, strconv.Itoa(s.Running), s.DeviceName, s.Slot, s.Role, s.On, strconv.Itoa(s.Off), s.Serves, s.Name}})
	}
	return p
}

func (s patchSheet) banksPart() paper.Part {
	p := paper.Part{Heading: "Banks", Columns: columns("bank", "type", "address space", ">address", "position", "note")}
	for _, b := range s.Banks {
		address, note := "none yet", ""
		if b.Address > 0 {
			address = strconv.Itoa(b.Address)
		}
		if b.Dead {
			note = "out of service"
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{b.Name, b.Type, wording.Given(b.Space), address, b.Position, note}})
	}
	return p
}
