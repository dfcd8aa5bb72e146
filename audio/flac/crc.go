package flac

// crc8Table and crc16Table are the checksums of FLAC (RFC 9639 §9.1.8, §9.3):
// polynomials x^8+x^2+x+1 and x^16+x^15+x^2+1, from 0, highest bit first.
// crc16Table[1] goes on by one byte more.
var (
	crc8Table  [256]uint8
	crc16Table [2][256]uint16
)

func init() {
	for i := range 256 {
		a, b := uint8(i), uint16(i)<<8
		for range 8 {
			a = a<<1 ^ a>>7*0x07
			b = b<<1 ^ b>>15*0x8005
		}
		crc8Table[i], crc16Table[0][i] = a, b
	}
	for i, v := range crc16Table[0] {
		crc16Table[1][i] = v<<8 ^ crc16Table[0][v>>8]
	}
}

func crc8(b []byte) (crc uint8) {
	for _, v := range b {
		crc = crc8Table[crc^v]
	}
	return crc
}

// crc16 takes two bytes at a time.
func crc16(b []byte) (crc uint16) {
	for ; len(b) >= 2; b = b[2:] {
		crc = crc16Table[1][uint8(crc>>8)^b[0]] ^ crc16Table[0][uint8(crc)^b[1]]
	}
	for _, v := range b {
		crc = crc<<8 ^ crc16Table[0][uint8(crc>>8)^v]
	}
	return crc
}
