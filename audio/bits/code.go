package bits

// Code is one code of variable length: its bits, the first of them highest, how
// many they are, and what it stands for.
type Code struct {
	Bits, Length uint
	Value        uint32
}
