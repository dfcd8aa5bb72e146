package ear

import "math"

func sqrt32(x float32) float32 { return float32(math.Sqrt(float64(x))) }
