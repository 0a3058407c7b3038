# Week three, 11 to 17 May: two cakes for Saturday 16 May, and everything goes wrong. cake-7 stands in a fridge that stops cooling on
# Friday, its milk turns out to have been past its date, and its customer named sesame, which its pearls may contain. cake-8 has a sponge
# that was frozen twice, chocolate that is recalled, traces of pistachio from an unwashed mixer, and a customer who said "nuts".

# ---- Monday: two orders -----------------------------------------------------------------------------------------------------
at 2026-05-11T10:00+01:00
"$tierproof" cake --name "Lemon curd and meringue cake" --for 2026-05-16 --customer "Customer Seven" \
  --contact "customer-seven@example.org" --pieces 80 \
  --boxed after --sold-by maker --ordered distance --face 1200 \
  --of-recipe lemon-sponge --of-recipe lemon-curd --of-recipe soft-meringue --of-recipe lustred-pearls \
  --allergy named --allergen sesame --of "Customer Seven, by message" \
  --told "It contains wheat, eggs and milk. The pearls on it may contain sesame, so we ask for a written yes or leave them off."
"$tierproof" cake --name "Orange and gold cake" --for 2026-05-16 --customer "Customer Eight" --contact "customer-eight@example.org" --pieces 40 \
  --boxed after --sold-by maker --ordered face-to-face --face 1200 --of-recipe lemon-sponge --of-recipe ganache --of-recipe gilded-apricots
"$tierproof" message ask-allergy cake-8 --sent-to "Customer Eight, by message"
evening 2026-05-11

# ---- Tuesday: deliveries. The supplier of the strawberries answers for sesame at last ---------------------------------------
at 2026-05-12T09:00+01:00
"$tierproof" specification "$here"/packs/week-three/*.json --accept --why "the supplier answered for sesame"
"$tierproof" receive wheat-flour --from mill --code M2606 --mass 8kg --best-before 2026-12-31                                # pack-43
"$tierproof" receive caster-sugar --from wholesaler --code S121 --mass 10kg --best-before 2028-02-28
"$tierproof" receive butter --from dairy --code BU86 --mass 4kg --use-by 2026-06-03 --dispatched 2026-05-12
"$tierproof" receive milk --from dairy --code MK19 --mass 2kg --use-by 2026-05-20 --dispatched 2026-05-12
"$tierproof" receive double-cream --from dairy --code DC17 --mass 2kg --use-by 2026-05-20 --dispatched 2026-05-12
"$tierproof" receive shell-eggs --from egg-farm --code E0512 --mass 4kg --best-before 2026-06-03 --dispatched 2026-05-11
"$tierproof" receive egg-white --from egg-works --code W36 --mass 2kg --use-by 2026-05-26 --dispatched 2026-05-11
"$tierproof" receive baking-powder --from wholesaler --code BP10 --mass 500g --best-before 2027-05-31                        # pack-50
"$tierproof" receive lemons --from greengrocer --code LE61 --mass 2kg --best-before 2026-05-26
"$tierproof" receive oranges --from greengrocer --code OR24 --mass 4kg --best-before 2026-05-28
"$tierproof" receive lemon-juice --from wholesaler --code LJ6 --mass 1kg --best-before 2027-01-31
"$tierproof" receive vanilla-extract --from wholesaler --code VE3 --mass 200g --best-before 2028-07-31
"$tierproof" receive dark-chocolate --from wholesaler --code CH23 --mass 2kg --best-before 2027-07-31
"$tierproof" receive raspberry-jam --from wholesaler --code RJ45 --mass 2kg --best-before 2027-03-31
"$tierproof" receive pistachios --from wholesaler --code PI4 --mass 1kg --best-before 2027-01-31
"$tierproof" receive strawberry-pieces --from decorations --code ST7 --mass 400g --best-before 2027-03-31
"$tierproof" receive sugar-flowers --from decorations --code SF9 --mass 500g --best-before 2027-06-30
"$tierproof" receive gold-leaf --from decorations --code GL2 --mass 10g --best-before 2031-01-31                             # pack-60
# The flour tub is emptied and washed, so that what is taken from it now is of one pack again.
"$tierproof" throw-away pack-20 --why "left in the flour tub when it was emptied"
"$tierproof" empty flour-tub
"$tierproof" top-up flour-tub pack-43
evening 2026-05-12

# ---- Wednesday: cake-8's sponge is thawed, its cutting is put off, and it goes back into the freezer ------------------------
at 2026-05-13T08:00+01:00
"$tierproof" put batch-16 --in cake-fridge
at 2026-05-13T09:58+01:00
"$tierproof" make lemon-curd --yield 880g                                           # batch-26
"$tierproof" temperature fork --file "$here"/readings/curd.csv --of batch-26
"$tierproof" put batch-26 --in second-fridge
at 2026-05-13T11:00+01:00
"$tierproof" make lemon-sponge --times 2 --use milk=pack-22 --yield 3120g           # batch-27
"$tierproof" temperature fork 23.5C --of batch-27 --mark "start" --at 2026-05-13T10:20+01:00
"$tierproof" temperature fork 97.1C --of batch-27 --mark "done" --at 2026-05-13T10:58+01:00
"$tierproof" make dried-citrus --yield 260g                                         # batch-28
at 2026-05-13T12:00+01:00
"$tierproof" clean stand-mixer --how "washed, looked clean"
at 2026-05-13T12:30+01:00
"$tierproof" make white-buttercream --yield 1400g                                   # batch-29
"$tierproof" put batch-29 --in second-fridge
at 2026-05-13T17:00+01:00
"$tierproof" put batch-16 --in freezer
evening 2026-05-13

# ---- Thursday: sugar work, meringue, decorations ----------------------------------------------------------------------------
at 2026-05-14T08:47+01:00
"$tierproof" make sugar-work --yield 480g                                           # batch-30
"$tierproof" temperature fork --file "$here"/readings/sugar-work.csv --of batch-30 --for syrup
at 2026-05-14T09:35+01:00
"$tierproof" make boiled-syrup --yield 340g                                         # batch-31
"$tierproof" temperature fork --file "$here"/readings/meringue-syrup.csv --of batch-31 --for syrup
"$tierproof" make soft-meringue --yield 460g                                        # batch-32
"$tierproof" put batch-32 --in second-fridge
at 2026-05-14T10:30+01:00
"$tierproof" clean crunch-tub --how "washed and tested" --tested "protein swab" --for protein --found nothing
"$tierproof" make strawberry-crunch --yield 100g                                    # batch-33, for the shop's counter
"$tierproof" make gilded-apricots --yield 162g                                      # batch-34
"$tierproof" make flower-spray --yield 60g                                          # batch-35, for the shop's counter
"$tierproof" make raspberry-filling --yield 516g                                    # batch-36, for the shop's counter
# Odo bakes pistachio sponge for the counter and writes down no washing before the next buttercream.
at 2026-05-14T11:30+01:00
"$tierproof" make pistachio-sponge --yield 1380g --by odo                           # batch-37
at 2026-05-14T12:30+01:00
"$tierproof" make white-buttercream --again --yield 1400g --by odo                  # batch-38
"$tierproof" put batch-38 --in cake-fridge
at 2026-05-14T13:30+01:00
"$tierproof" clean stand-mixer --how "washed and tested" --tested "protein swab" --for protein --found nothing
"$tierproof" clean saucepan --how "washed and tested" --tested "protein swab" --for protein --found nothing
at 2026-05-14T14:00+01:00
"$tierproof" make ganache --yield 780g                                              # batch-39
"$tierproof" put batch-39 --in cake-fridge
at 2026-05-14T14:30+01:00
"$tierproof" make soaking-syrup --yield 440g                                        # batch-40
evening 2026-05-14

# ---- Friday -----------------------------------------------------------------------------------------------------------------
at 2026-05-15T08:00+01:00
"$tierproof" put batch-16 --in cake-fridge
at 2026-05-15T09:30+01:00
"$tierproof" allergy cake-8 --answer named --allergen nuts --of "Customer Eight, by telephone" \
  --told "We ask you which nuts are meant, and whether peanuts are."
"$tierproof" message which-ones cake-8 --sent-to "Customer Eight, by message"
at 2026-05-15T14:00+01:00
"$tierproof" tier cake-7 bottom --part batch-27=1500g --part batch-29=500g --part batch-26=400g --not-food dowel=4
"$tierproof" tier cake-7 middle --part batch-27=900g --part batch-29=300g --part batch-26=260g --not-food dowel=4
"$tierproof" tier cake-7 top --part batch-27=400g --part batch-29=160g --part batch-32=300g --part batch-24=40g
"$tierproof" put cake-7 --in second-fridge
at 2026-05-15T15:00+01:00
"$tierproof" tier cake-8 bottom --part batch-16=900g --part batch-40=120g --part batch-39=420g --part batch-38=300g --not-food dowel=4
"$tierproof" tier cake-8 top --part batch-16=500g --part batch-40=60g --part batch-39=240g --part batch-38=200g \
  --part batch-30=80g --part batch-28=80g --part batch-34=60g --not-food "sugar ribbon stick"=2
"$tierproof" put cake-8 --in cake-fridge
"$tierproof" left-over batch-27 --mass 300g --off-cuts                              # batch-41, for the shop's counter

# The wholesaler recalls chocolate CH22. It went into cake-5, which was eaten a week ago, and into the ganache of cake-8.
at 2026-05-15T16:45+01:00
"$tierproof" withdraw pack-27 --why "recalled by the wholesaler: pieces of hard plastic"
"$tierproof" recall-begin pack-27 --why "the wholesaler rang: pieces of hard plastic from a broken mould"
"$tierproof" told cake-5 --when after-hand-over --to "Customer Five, by telephone" \
  --words "The chocolate of your cake was recalled: pieces of hard plastic may be in it. Do not eat what is left of it."
"$tierproof" recall-tick recall-1 cake-5 told --note "Customer Five, by telephone: nothing of it is left"
for food in batch-22 batch-39 cake-8; do "$tierproof" recall-tick recall-1 $food "set aside" --note "red tape, lowest shelf"; done
"$tierproof" recall-tick recall-1 pack-27 "set aside" --weighed 1194g
at 2026-05-15T17:10+01:00
"$tierproof" recall-tick recall-1 authority told --note "food authority of the town, by telephone: they wait for the wholesaler's notice"
evening 2026-05-15

# ---- Saturday: the second fridge stopped cooling on Friday afternoon --------------------------------------------------------
at 2026-05-16T08:16+01:00
fridge_log plain 103 35 2026-05-09T10:20 2026-05-16T08:15 >"$work/cake-fridge-3.csv"
fridge_log semicolon 203 38 2026-05-09T10:20 2026-05-16T08:15 warm=2026-05-15T14:40..2026-05-15T21:30 >"$work/second-fridge-3.csv"
"$tierproof" temperature fridge-logger --file "$work/cake-fridge-3.csv" --of cake-fridge
"$tierproof" temperature second-logger --file "$work/second-fridge-3.csv" --format second-fridge --of second-fridge
# The fork thermometer stood in cake-7's middle tier over the evening and kept what it read.
"$tierproof" temperature fork --file "$here"/readings/middle-tier.csv --of cake-7
"$tierproof" thermometer-check fork 0.2C --in ice
"$tierproof" thermometer-check fridge-logger 0.1C --in ice
"$tierproof" thermometer-check second-logger 0.1C --in ice

"$tierproof" went-wrong "the second fridge stopped cooling on Friday afternoon" --about second-fridge --shown-by temperature \
  --at 2026-05-15T14:40+01:00

# The delivery note shows that a 1 was read as a 4: milk MK15 had to be used by 11 May.
note=$("$tierproof" notes --about pack-22 | awk '$3 == "lot/1" { print $1; exit }')
"$tierproof" notes "$note" | sed -e s/2026-05-14/2026-05-11/ >"$work/right.json"
"$tierproof" correct "$note" "$work/right.json" --why "the use-by on the bottle is 11 May; a 1 was read as a 4"

for cake in cake-7 cake-8; do "$tierproof" check $cake || true; done
at 2026-05-16T08:20+01:00
"$tierproof" open-matters || true
"$tierproof" release cake-7 || echo "cake-7 stays: it stood too warm, and more"
"$tierproof" release cake-8 || echo "cake-8 stays: recalled chocolate, and more"
at 2026-05-16T08:30+01:00
for cake in cake-7 cake-8; do "$tierproof" label $cake --stock sheet-99x139 --into "$into"; done
for cake in cake-7 cake-8; do "$tierproof" record $cake --into "$into"; done
at 2026-05-16T09:00+01:00
for cake in cake-7 cake-8; do "$tierproof" message cannot-promise $cake --sent-to "the customer of $cake, by message" --when before-hand-over; done
"$tierproof" throw-away cake-8 --why "recalled chocolate; kept apart until the wholesaler fetched it"
evening 2026-05-16
