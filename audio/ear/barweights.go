package ear

// barWeights weigh the features of a barring in the order of describe, fitted
// like tactusWeights.
var barWeights = [...]float64{
	0.6919, 2.6731, -0.3612, -0.9039, -0.5100, 3.7014,
	2.4192, -0.5981, 0.5046, -1.0117, 0.4457, 0.3644,
	-0.7869, -0.3447, -0.5279, -0.1098, -0.1958, -3.3209,
	-0.1613, 0.2802, 1.0018, 0.9800, 1.3514, -0.4641,
}
