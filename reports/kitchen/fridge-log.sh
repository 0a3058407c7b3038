# fridge_log: writes what a fridge's logger would have written, every five minutes, always the same for the same seed.
#   fridge_log DIALECT SEED BASE FROM TO [gap=FROM..TO] [warm=FROM..TO] > file
# DIALECT  plain (commas, full times) or semicolon (semicolons, decimal commas, day first, the clock in a column of its own)
# BASE     tenths of a degree around which the fridge runs
# times    as 2026-05-01T09:30, in the kitchen's summer time (an hour ahead of universal time), all of April and May of one year
# gap      the logger was not running; warm: the fridge stopped cooling, up to 14 degrees, and cools again afterwards
# Chance is a linear congruential generator, and all sums are of whole numbers, so every awk writes the same bytes.
fridge_log() {
  local dialect=$1 seed=$2 base=$3 from=$4 to=$5
  shift 5
  awk -v dialect="$dialect" -v seed="$seed" -v base="$base" -v from="$from" -v to="$to" -v events="$*" '
    function minutes(text,  d) {  # since the first of April
      d = substr(text, 9, 2) - 1 + (substr(text, 6, 2) == "05" ? 30 : 0)
      return d * 1440 + substr(text, 12, 2) * 60 + substr(text, 15, 2)
    }
    function chance(below) {
      seed = (seed * 16807) % 2147483647
      return int(seed / 1000) % below
    }
    function two(n) { return (n < 10 ? "0" : "") n }
    BEGIN {
      count = split(events, event, " ")
      for (i = 1; i <= count; ++i) {
        split(event[i], named, "=")
        split(substr(event[i], length(named[1]) + 2), ends, "[.][.]")
        kind[i] = named[1]; first[i] = minutes(ends[1]); last[i] = minutes(ends[2])
      }
      print (dialect == "plain" ? "time,temperature" : "date;clock;temperature")
      door = 0; warmth = 0
      for (m = minutes(from); m <= minutes(to); m += 5) {
        day = int(m / 1440); clock = m % 1440
        swing = (m % 45) < 25 ? int((m % 45) / 5) : int((45 - m % 45) / 5)       # the compressor goes on and off
        if (clock >= 480 && clock < 1080 && chance(40) == 0) door = 8 + chance(8)  # somebody opens the door in working hours
        warm = 0; silent = 0
        for (i = 1; i <= count; ++i) {
          if (m < first[i] || m >= last[i]) continue
          if (kind[i] == "warm") warm = 1
          if (kind[i] == "gap") silent = 1
        }
        if (warm && warmth < 100) warmth += 2 + chance(2)
        if (!warm && warmth > 0) warmth = int(warmth * 4 / 5)
        tenths = base + swing + door + warmth + chance(3) - 1
        if (door > 0) door -= 2
        if (door < 0) door = 0
        if (silent) continue
        month = day < 30 ? 4 : 5; day = (day < 30 ? day : day - 30) + 1
        at = two(int(clock / 60)) ":" two(clock % 60)
        if (dialect == "plain") print "2026-" two(month) "-" two(day) "T" at ":00+01:00," int(tenths / 10) "." tenths % 10
        else print two(day) "/" two(month) "/2026;" at ":00;" int(tenths / 10) "," tenths % 10
      }
    }'
}
