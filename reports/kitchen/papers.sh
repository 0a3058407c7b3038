# Sunday 17 May, and later: what is printed at the end of the three weeks, what is erased, and the proof that nothing was changed.

at 2026-05-17T10:00+01:00
# The chocolate of cake-5 was recalled after it was eaten: its record tells of it, apart from what was known when it left.
"$tierproof" record cake-5 --into "$into"
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

# Customer Two asks that what is kept of the first order is erased. Until a duty ends that is refused, with the day on which it ends.
"$tierproof" erase cake-2 --because "the customer asked" || echo "cake-2's customer stays reachable for now"
at 2026-06-05T10:00+01:00
"$tierproof" erase cake-2 --because "the customer asked"

# The whole kitchen as one document, taken in by another file: both have the same fingerprint.
"$tierproof" export "$work/whole-kitchen.json"
"$tierproof" import "$work/whole-kitchen.json" --kitchen "$work/again.tierproof"
"$tierproof" verify
"$tierproof" verify --kitchen "$work/again.tierproof"
