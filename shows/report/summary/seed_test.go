package summary

import _ "emberbeat/timeline/testtool" // the seed of random walks
