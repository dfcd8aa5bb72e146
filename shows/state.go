package shows

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
)

// StateEnv is the environment variable that moves the user's state folder.
const StateEnv = "EMBERBEAT_STATE"

// StateDir is the folder for what belongs to the user and not to a show:
// older versions and journals. It is made when something is put there.
func StateDir() (string, error) {
	if dir := os.Getenv(StateEnv); dir != "" {
		return dir, nil
	}
	switch runtime.GOOS {
	case "windows":
		if dir := os.Getenv("LocalAppData"); dir != "" {
			return filepath.Join(dir, "emberbeat", "state"), nil
		}
	case "darwin":
	default:
		if dir := os.Getenv("XDG_STATE_HOME"); filepath.IsAbs(dir) {
			return filepath.Join(dir, "emberbeat"), nil
		}
		if home, err := os.UserHomeDir(); err == nil {
			return filepath.Join(home, ".local", "state", "emberbeat"), nil
		}
	}
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", errors.New("there is no home folder to keep older versions and unsaved edits in; set " + StateEnv)
	}
	return filepath.Join(dir, "emberbeat", "state"), nil
}
