"""Reads a Standard MIDI File with mido and says, a JSON object a line, where
its meta events stand: tick, and exact microseconds as a fraction. Bar lines
follow from the time signatures.

    referee.py FILE           what stands in a file
    referee.py write FILE N   writes a file of random tempos, seeded by N
"""
import json
import random
import sys
from fractions import Fraction

import mido


def write(path, seed):
    r = random.Random(seed)
    ppq = r.choice([24, 96, 480, 960, 3840, 9600])
    f = mido.MidiFile(type=1, ticks_per_beat=ppq)
    tempos, notes = mido.MidiTrack(), mido.MidiTrack()
    tempos.append(mido.MetaMessage("track_name", name="song"))
    bar = 4 * ppq
    ahead = 0
    for i in range(r.randint(1, 200)):
        if r.random() < 0.3:
            num, den = r.choice([(4, 4), (3, 4), (6, 8), (7, 8), (5, 4), (12, 8)])
            tempos.append(mido.MetaMessage("time_signature", numerator=num, denominator=den, time=ahead))
            ahead = 0
            bar = ppq * 4 * num // den
        tempos.append(mido.MetaMessage("set_tempo", tempo=r.randint(150000, 1500000), time=ahead))
        tempos.append(mido.MetaMessage("marker", text="m%d" % i, time=0))
        ahead = bar * r.randint(1, 8)
        if r.random() < 0.4:
            part = r.randint(1, bar - 1)
            tempos.append(mido.MetaMessage("set_tempo", tempo=r.randint(150000, 1500000), time=part))
            ahead -= part
        notes.append(mido.Message("note_on", note=60, velocity=r.randint(1, 127), time=r.randint(0, 5)))
        notes.append(mido.Message("note_off", note=60, time=r.randint(0, 5)))
        notes.append(mido.Message("sysex", data=[1, 2, 3], time=0))
        notes.append(mido.Message("program_change", program=5, time=1))
    tempos.append(mido.MetaMessage("end_of_track", time=ahead))
    f.tracks.extend([tempos, notes])
    f.save(path)


def events(f):
    for track in f.tracks:
        tick, name = 0, ""
        for m in track:
            tick += m.time
            if m.type == "track_name":
                name = m.name
            yield tick, name, m


def show(path):
    f = mido.MidiFile(path)
    ppq = f.ticks_per_beat
    found = list(events(f))
    tempos = sorted(((t, m.tempo) for t, _, m in found if m.type == "set_tempo"), key=lambda e: e[0])

    def micros(tick):
        at, last, tempo = Fraction(0), 0, 500000
        for t, new in tempos:
            if t > tick:
                break
            at += Fraction((t - last) * tempo, ppq)
            last, tempo = t, new
        return at + Fraction((tick - last) * tempo, ppq)

    def say(kind, tick, **more):
        at = micros(tick)
        print(json.dumps(dict(kind=kind, tick=tick, num=at.numerator, den=at.denominator, **more)))

    end = 0
    for tick, name, m in found:
        end = max(end, tick)
        if m.is_meta:
            more = dict(track=name, text=getattr(m, "text", getattr(m, "name", "")))
            if m.type == "time_signature":
                more["text"] = "%d/%d" % (m.numerator, m.denominator)
            if m.type == "set_tempo":
                more["text"] = str(m.tempo)
            say(m.type, tick, **more)
        else:
            say("other", tick, track=name, text=m.type)
    signatures = sorted(((t, m.numerator, m.denominator) for t, _, m in found if m.type == "time_signature"), key=lambda e: e[0])
    tick, num, den = 0, 4, 4
    while tick <= end:
        while signatures and signatures[0][0] <= tick:
            _, num, den = signatures.pop(0)
        say("bar", tick)
        tick += ppq * 4 * num // den


if sys.argv[1] == "write":
    write(sys.argv[2], int(sys.argv[3]))
else:
    show(sys.argv[1])
