package timeline

import "fmt"

// DMXTiming says how long a DMX512 packet takes. All numbers are microseconds.
type DMXTiming struct {
	Break float64 // before the packet
	Mark  float64 // after the break
	Slot  float64 // of one slot, the start code included: 11 bits of 4 µs
}

// Packet gives how long a packet of so many data slots takes, in µs: break,
// mark, start code and slots. A value changed just after its slot has gone out
// waits that long at most, and half of it on average.
func (t DMXTiming) Packet(slots float64) float64 { return t.Break + t.Mark + t.Slot*(slots+1) }

// FromMicros returns us microseconds to the nearest unit.
func FromMicros(us float64) Time { return FromSeconds(us / 1e6) }

// NetAddress writes the number of a universe as networks do that count from 0
// in three parts: net:sub:universe, of 16 universes a sub and 16 subs a net.
// Universes are counted from 1 here.
func NetAddress(universe int) string {
	n := universe - 1
	return fmt.Sprintf("%d:%d:%d", n>>8, n>>4&15, n&15)
}

// MulticastGroup gives the group on which a universe is heard on a network after
// ANSI E1.31: 239.255 and the two bytes of its number.
func MulticastGroup(universe int) string {
	return fmt.Sprintf("239.255.%d.%d", universe>>8&255, universe&255)
}
