package sheet

import (
	"fmt"
	"os"
)

// Target says why nothing that leaves the program may be written under a name:
// there is a folder, or a device, a pipe or a socket, behind which something
// could run with what it is given. nil where a file stands there, or nothing yet.
func Target(name string) error {
	info, err := os.Stat(name)
	switch {
	case err != nil || info.Mode().IsRegular():
		return nil // what else is wrong with it, writing will tell
	case info.IsDir():
		return fmt.Errorf("%s is a folder; name a file", name)
	}
	return fmt.Errorf("%s is a device, a pipe or a socket; name a file: nothing is written to what could run with it", name)
}
