// Prints the label of every frame of a day, as the npm package smpte-timecode
// gives it, one a line; then, after an empty line, the labels of each minute's
// start that the package refuses.
//
//   node labels.cjs NUMERATOR DENOMINATOR DROP(0|1) FRAMES
'use strict'
const { Readable } = require('stream')
const Timecode = require('smpte-timecode')

const [numerator, denominator, drop, frames] = process.argv.slice(2).map(Number)
const make = (from) => new Timecode(from, [numerator, denominator], drop === 1)

function * day () {
  const chunk = 10000
  for (let first = 0; first < frames; first += chunk) {
    let text = ''
    for (let frame = first; frame < Math.min(first + chunk, frames); frame++) {
      text += make(frame).toString() + '\n'
    }
    yield text
  }
  yield '\n'
  yield * refused()
}

function * refused () {
  const two = (n) => String(n).padStart(2, '0')
  for (let minute = 0; minute < 24 * 60; minute++) {
    for (let f = 0; f < 3; f++) {
      const label = `${two(Math.floor(minute / 60))}:${two(minute % 60)}:00:${two(f)}`
      try {
        make(label)
      } catch {
        yield label + '\n'
      }
    }
  }
}

Readable.from(day()).pipe(process.stdout)
