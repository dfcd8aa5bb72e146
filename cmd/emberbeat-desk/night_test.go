package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// A night in the real window: a position dragged on the stage plan, the order changed, flames swapped, tonight read, all sheets written.
func TestNightInTheWindow(t *testing.T) {
	d := newDesk(t)
	dir := d.show()
	log := d.run(`
		log sound.ready
		key ctrl+shift+p
		type next night
		key Return
		log night.saltglass-1
		log checked
		key ctrl+0
		log page.stage-plan
		drag 448 492 448 411
		log did.move.position
		key ctrl+z
		log undid.move.position
		key ctrl+6
		log page.sets
		key alt+Down
		log did.move
		log checked
		key ctrl+8
		log page.nights
		key ctrl+shift+x
		log foresaw
		key Tab
		key Tab
		type no power
		key Return
		log did.cut
		log checked
		key ctrl+9
		log page.tonight
		key ctrl+shift+e
		key Return
		log exported
		file HOME/saltglass-first-sheets/cut-list.pdf
		key ctrl+s
		log saved
		quit ctrl+q
	`, program, dir)
	require.NotContains(t, log, "panic")
	night, err := os.ReadFile(filepath.Join(dir, "nights", "saltglass-first.toml"))
	require.NoError(t, err)
	require.Contains(t, string(night), "no power")
}
