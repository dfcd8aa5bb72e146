package ear

// Made by make fit-ear; see there before editing.

// barWeights weigh the features of a barring in the order of describe.
var barWeights = [...]float64{
	0.3105, 2.0963, -0.3020, -0.9322, -0.4408, -4.0873,
	1.2983, -2.0775, 0.0196, -0.3528, 0.1828, 2.0785,
	1.3480, 0.0555, 1.4001, 0.8676, -1.4973, 0.7624,
	-0.0735, -0.6716, -0.5257, -0.1118, -0.2221, -0.5272,
	0.2645, -0.5927, 0.1943, 0.7989, 1.5757, 1.7665,
	2.3783,
}
