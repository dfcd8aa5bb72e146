package screen

import (
	"strings"
	"syscall"
)

// answers reports whether a display that is named as in DISPLAY takes connections. One on another computer is believed in: asking it could
// take long.
func answers(display string) bool {
	host, number, ok := strings.Cut(display, ":")
	if !ok {
		return false
	}
	if host != "" && host != "unix" {
		return true
	}
	number, _, _ = strings.Cut(number, ".")
	socket := "/tmp/.X11-unix/X" + number
	return connects(socket) || connects("@"+socket)
}

func connects(name string) bool {
	fd, err := syscall.Socket(syscall.AF_UNIX, syscall.SOCK_STREAM|syscall.SOCK_CLOEXEC, 0)
	if err != nil {
		return false
	}
	defer syscall.Close(fd)
	return syscall.Connect(fd, &syscall.SockaddrUnix{Name: name}) == nil
}
