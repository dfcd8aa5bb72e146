package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// Stock, patch and wiring by the keyboard alone: an article is renamed, taken back and renamed again, each time after what rests on it was shown;
// a bank is added; the timeline comes back.
func TestBookByKeys(t *testing.T) {
	d := newDesk(t)
	dir := d.show()
	log := d.run(`
		log sound.ready
		log checked
		key ctrl+1
		log page.articles
		key Down
		key ctrl+Return
		type Renamed jet
		key Return
		log consequences.cues=[1-9]
		key Escape
		log taken.back.change.name
		key ctrl+1
		key ctrl+Return
		type Renamed jet
		key Return
		log consequences.cues=[1-9]
		key Return
		log did.change.name
		key ctrl+3
		log page.banks
		key Down
		key shift+Insert
		key ctrl+Return
		log did.add.1.bank
		key ctrl+4
		log page.outputs
		key ctrl+shift+w
		key Escape
		key Escape
		log page.$
		key ctrl+s
		log saved
		quit ctrl+q
	`, program, dir)
	require.NotContains(t, log, "panic")
	stock, err := os.ReadFile(filepath.Join(dir, "stock.toml"))
	require.NoError(t, err)
	require.Contains(t, string(stock), `name = "Renamed jet"`)
	rig, err := os.ReadFile(filepath.Join(dir, "rig.toml"))
	require.NoError(t, err)
	require.Contains(t, string(rig), "address = 3\n", "the next free address of the space")
}
