package ear

// Made by make fit-ear; see there before editing.

// barWeights weigh the features of a barring in the order of describe.
var barWeights = [...]float64{
	0.2646, 2.0513, -0.3421, -0.9666, -0.4804, -4.5215,
	1.3650, -2.0541, 0.0540, -0.3585, 0.2192, 2.1187,
	1.4036, 0.0211, 1.2263, 0.8883, -1.4857, 0.7870,
	-0.0483, -0.6953, -0.5158, -0.0824, -0.2071, -0.5563,
	0.4993, -0.6151, 0.2398, 0.7320, 1.6355, 1.5615,
	2.4198,
}
