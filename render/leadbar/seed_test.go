package leadbar

import _ "emberbeat/timeline/testtool"
