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
		log sound.ready 15
		key ctrl+shift+p
		wait 0.3
		type next night
		key Return
		log night.saltglass-1
		log checked
		key ctrl+0
		log page.stage-plan
		wait 0.5
		drag 497 479 497 398
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
		log foresaw 10
		wait 0.3
		key Tab
		wait 0.2
		key Tab
		wait 0.2
		type no power
		wait 0.2
		key Return
		log did.cut
		log checked
		key ctrl+9
		log page.tonight
		wait 0.3
		key ctrl+shift+e
		wait 0.3
		key Return
		log exported 20
		file HOME/saltglass-first-sheets/cut-list.pdf
		key ctrl+s
		log ^saved
		key ctrl+q
		gone 5
	`, program, dir)
	require.NotContains(t, log, "panic")
	night, err := os.ReadFile(filepath.Join(dir, "nights", "saltglass-first.toml"))
	require.NoError(t, err)
	require.Contains(t, string(night), "no power")
}
