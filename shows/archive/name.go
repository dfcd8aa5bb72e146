package archive

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
)

// BadName says what is wrong with a name in an archive, or "". A name is good
// if it stays in the folder it is unpacked to on every system, whatever that
// system makes of letters, dots and devices.
func BadName(name string) string {
	switch {
	case !fs.ValidPath(name) || name == ".":
		return "is no path inside the folder"
	case len(name) > 240:
		return fmt.Sprintf("has %d bytes; up to 240 fit everywhere", len(name))
	}
	for _, r := range name {
		if r < ' ' || r == 0x7f || strings.ContainsRune(`\:*?"<>|`, r) {
			return fmt.Sprintf("holds %q, which no file name may have everywhere", r)
		}
	}
	for _, part := range strings.Split(name, "/") {
		if last := part[len(part)-1]; last == '.' || last == ' ' {
			return "ends a name in a dot or a space"
		}
		stem, _, _ := strings.Cut(strings.ToLower(part), ".")
		if slices.Contains(deviceNames, strings.TrimRight(stem, " ")) {
			return fmt.Sprintf("holds %q, which is a device on some systems", part)
		}
	}
	return ""
}

// deviceNames are names that Windows takes for devices, with any ending.
// Source: Microsoft, "Naming Files, Paths, and Namespaces" (from memory).
var deviceNames = []string{"con", "prn", "aux", "nul", "conin$", "conout$",
	"com0", "com1", "com2", "com3", "com4", "com5", "com6", "com7", "com8", "com9", "com¹", "com²", "com³",
	"lpt0", "lpt1", "lpt2", "lpt3", "lpt4", "lpt5", "lpt6", "lpt7", "lpt8", "lpt9", "lpt¹", "lpt²", "lpt³"}
