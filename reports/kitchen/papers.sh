# Sunday 17 May, and later: what is printed at the end of the three weeks, what is erased, and the proof that nothing was changed.

at 2026-05-17T10:00+01:00
# The chocolate of cake-5 was recalled after it was eaten: its record tells of it, apart from what was known when it left.
"$tierproof" record cake-5 --into "$into"
# The recall of that chocolate, closed once everything of it was found: its report.
for food in pack-27 batch-22 batch-39; do "$tierproof" recall-tick recall-1 $food "given back" --note "the wholesaler's driver took it, receipt 17-204"; done
"$tierproof" recall-close recall-1 --cause "a broken mould at the wholesaler's" \
  --learned "the telephone number of every customer is asked for, and the wholesaler writes instead of ringing"
"$tierproof" recall-report recall-1 --into "$into"
# An exercise on a quiet Sunday: can everything with one delivery of butter be found?
at 2026-05-17T10:30+01:00
"$tierproof" recall-begin pack-3 --drill --why "the first exercise of the year: one delivery of butter"
at 2026-05-17T10:41+01:00
for cake in cake-3 cake-4 cake-5; do "$tierproof" recall-tick recall-2 $cake found --note "the order has a name"; done
"$tierproof" recall-tick recall-2 cake-1 "not found" --note "bought at the stall: nobody asked for a name"
at 2026-05-17T11:02+01:00
"$tierproof" recall-tick recall-2 pack-3 found --weighed 1840g
for food in batch-1 batch-2 batch-4 batch-6 batch-13 batch-14 batch-16 batch-19 batch-20 batch-23 batch-26 batch-27 batch-29 batch-37 batch-38 \
  batch-41 cake-7; do "$tierproof" recall-tick recall-2 $food found; done
"$tierproof" recall-tick recall-2 batch-5 "not found" --note "40 g by the records, and no tub of it: perhaps eaten"
"$tierproof" recall-close recall-2 --learned "a card with a number lies at the stall; rests are thrown away and booked the same evening"
"$tierproof" recall-report recall-2 --into "$into"
# An empty form for the day the power is out, and every pack as a table.
"$tierproof" sheet deliveries --into "$into"
"$tierproof" list packs --csv "$into/packs.csv"
# Paper for a day's work: beside a cake, for whoever takes it, for the counter, on a tub, on a shelf, and for a printer that is off.
"$tierproof" venue-card cake-1 --into "$into"
"$tierproof" hand-over-note cake-1 --into "$into"
"$tierproof" counter-list --from 2026-05-01 --until 2026-05-31 --into "$into"
"$tierproof" tub-label batch-4 --stock die-62x100 --into "$into"
"$tierproof" shelf-label pack-7 --stock die-57x32 --into "$into"
"$tierproof" ruler-page sheet-63x72 --into "$into"

# What an officer asks to see, of the three weeks: nobody wrote anything down on 6 May, which is booked as missed before it is printed.
at 2026-05-17T11:30+01:00
"$tierproof" book-missed
"$tierproof" inspection --from 2026-04-27 --until 2026-05-17 || true
"$tierproof" inspection --from 2026-04-27 --until 2026-05-17 --into "$work/inspection"
cp "$work"/inspection/inspection-record.* "$into"

# Customer Two asks that what is kept of the first order is erased. Until a duty ends that is refused, with the day on which it ends.
"$tierproof" erase cake-2 --because "the customer asked" || echo "cake-2's customer stays reachable for now"
at 2026-06-05T10:00+01:00
"$tierproof" erase cake-2 --because "the customer asked"

# The whole kitchen as one document, taken in by another file: both have the same fingerprint.
"$tierproof" export "$work/whole-kitchen.json"
"$tierproof" import "$work/whole-kitchen.json" --kitchen "$work/again.tierproof"
"$tierproof" verify
"$tierproof" verify --kitchen "$work/again.tierproof"
