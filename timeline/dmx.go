package timeline

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
