# Week two, 4 to 10 May: two cakes for Saturday 9 May. cake-5 is for a customer who named hazelnuts and accepted traces of them in
# writing; the fork thermometer fails its check on Friday, so that nothing it read since Saturday counts, the caramel's heat included.
# cake-6 was ordered with "no allergies"; after baking the answer changes to almonds, of which it is made, and its lustre is not for cakes.

# ---- Monday was a holiday. A complaint comes in about cake-3 ----------------------------------------------------------------
at 2026-05-05T08:30+01:00
"$tierproof" missed second-fridge --day 2026-05-04 --because "nobody worked" --note "public holiday; only the logger was running"
"$tierproof" complaint cake-3 "a guest bit on a splinter of wood" --of "something in it" --from "Customer Three, by telephone"

# ---- Tuesday: deliveries ----------------------------------------------------------------------------------------------------
at 2026-05-05T09:00+01:00
"$tierproof" receive wheat-flour --from mill --code M2605 --mass 1kg --best-before 2026-11-30                                # pack-20
"$tierproof" receive butter --from dairy --code BU81 --mass 6kg --use-by 2026-05-27 --dispatched 2026-05-05
"$tierproof" receive milk --from dairy --code MK15 --mass 4kg --use-by 2026-05-14 --dispatched 2026-05-05                    # pack-22
"$tierproof" receive double-cream --from dairy --code DC14 --mass 2kg --use-by 2026-05-13 --dispatched 2026-05-05
"$tierproof" receive shell-eggs --from egg-farm --code E0505 --mass 6kg --best-before 2026-05-27 --dispatched 2026-05-04
"$tierproof" receive egg-white --from egg-works --code W33 --mass 2kg --use-by 2026-05-19 --dispatched 2026-05-04
"$tierproof" receive dried-egg-white --from egg-works --code DW1 --mass 500g --best-before 2027-05-31 --dispatched 2026-05-04
"$tierproof" receive dark-chocolate --from wholesaler --code CH22 --mass 2kg --best-before 2027-06-30                        # pack-27
"$tierproof" receive cocoa-powder --from wholesaler --code CP3 --mass 1kg --best-before 2027-09-30
"$tierproof" receive icing-sugar --from wholesaler --code IS7 --mass 3kg --best-before 2027-10-31
"$tierproof" receive glucose-syrup --from wholesaler --code GS4 --mass 2kg --best-before 2027-08-31                          # pack-30
"$tierproof" receive sea-salt --from wholesaler --code SS1 --mass 500g --best-before 2029-12-31
"$tierproof" receive cream-of-tartar --from wholesaler --code CT2 --mass 100g --best-before 2028-03-31
"$tierproof" receive cornflour --from mill --code CF6 --mass 1kg --best-before 2027-04-30
"$tierproof" receive hazelnut-paste --from wholesaler --code HP2 --mass 1kg --best-before 2026-12-31
"$tierproof" receive ground-almonds --from wholesaler --code GA8 --mass 2kg --best-before 2026-12-31
"$tierproof" receive lemons --from greengrocer --code LE55 --mass 2kg --best-before 2026-05-19
"$tierproof" receive oranges --from greengrocer --code OR21 --mass 4kg --best-before 2026-05-21
"$tierproof" receive orange-colour --from decorations --code OC9 --mass 100g --best-before 2028-02-28
"$tierproof" receive elderflower-cordial --from wholesaler --code EC2 --mass 500g --best-before 2026-10-31
"$tierproof" receive sugar-pearls --from decorations --code SP6 --mass 600g --best-before 2027-11-30                         # pack-40
"$tierproof" receive lustre-dust --from decorations --code GD3 --mass 20g --best-before 2030-01-31
"$tierproof" receive lustre-dust --from party-shop --code RD1 --mass 20g --best-before 2030-01-31                            # pack-42
# The flour tub is topped up, as ever: what is taken from it now may be of either pack.
"$tierproof" top-up flour-tub pack-20

# ---- two orders -------------------------------------------------------------------------------------------------------------
at 2026-05-05T09:40+01:00
"$tierproof" cake --name "Chocolate and salted caramel cake" --for 2026-05-09 --customer "Customer Five" \
  --contact "customer-five@example.org" --pieces 30 \
  --boxed after --sold-by maker --ordered distance --face 900 --of-recipe cocoa-sponge --of-recipe ganache --of-recipe caramel \
  --allergy named --allergen nuts:hazelnut --of "Customer Five, by message" \
  --told "It contains wheat, eggs, milk and soya. Its chocolate may contain hazelnuts."
"$tierproof" message before-sale cake-5 --sent-to "Customer Five, by message"
"$tierproof" accepted cake-5 --allergen nuts:hazelnut \
  --written "message of 5 May, kept with the order: traces are no problem for us, whole hazelnuts are"
"$tierproof" cake --name "Macaron tower" --for 2026-05-09 --customer "Customer Six" --contact "customer-six@example.org" --pieces 60 \
  --boxed before --sold-by maker --ordered face-to-face --face 900 --of-recipe almond-shells --of-recipe hazelnut-filling \
  --allergy none --of "Customer Six, in the shop" --told "It contains almonds, hazelnuts, eggs and milk."

# ---- a sponge for the freezer, for week three -------------------------------------------------------------------------------
at 2026-05-05T10:30+01:00
"$tierproof" make lemon-sponge --yield 1560g                                        # batch-16
at 2026-05-05T15:00+01:00
"$tierproof" put batch-16 --in freezer
evening 2026-05-05

# ---- Wednesday --------------------------------------------------------------------------------------------------------------
at 2026-05-06T10:00+01:00
"$tierproof" make dried-citrus --yield 260g                                         # batch-17
"$tierproof" make soaking-syrup --yield 440g                                        # batch-18
"$tierproof" make cocoa-sponge --yield 1540g                                        # batch-19
at 2026-05-06T11:00+01:00
"$tierproof" clean stand-mixer --how "washed and tested" --tested "protein swab" --for protein --found nothing

# ---- Thursday: hazelnuts, a tested wash, almonds, a wash, and then the ganache of somebody who named hazelnuts ---------------
at 2026-05-07T09:00+01:00
"$tierproof" make hazelnut-filling --yield 590g                                     # batch-20
"$tierproof" put batch-20 --in cake-fridge
at 2026-05-07T09:40+01:00
"$tierproof" clean stand-mixer --how "washed and tested" --tested "protein swab" --for protein --found nothing
"$tierproof" clean piping-bag --how "washed and tested" --tested "protein swab" --for protein --found nothing
at 2026-05-07T10:00+01:00
"$tierproof" make almond-shells --yield 900g                                        # batch-21
at 2026-05-07T11:00+01:00
"$tierproof" clean stand-mixer --how "washed, looked clean" --by odo
at 2026-05-07T11:30+01:00
"$tierproof" make ganache --yield 780g                                              # batch-22
"$tierproof" put batch-22 --in cake-fridge
at 2026-05-07T12:00+01:00
"$tierproof" clean stand-mixer --how "washed and tested" --tested "protein swab" --for protein --found nothing
"$tierproof" clean saucepan --how "washed and tested" --tested "protein swab" --for protein --found nothing
at 2026-05-07T14:00+01:00
"$tierproof" make caramel --yield 680g                                              # batch-23
"$tierproof" temperature fork --file "$here"/readings/caramel.csv --of batch-23 --for syrup
"$tierproof" put batch-23 --in cake-fridge
at 2026-05-07T15:00+01:00
"$tierproof" make lustred-pearls --use lustre-dust=pack-41 --yield 104g             # batch-24, gold
# Odo finds the gold pot too pale and fetches rose lustre from a party shop.
"$tierproof" make lustred-pearls --use lustre-dust=pack-42 --yield 104g --by odo    # batch-25, rose
evening 2026-05-07

# ---- Friday: the fork thermometer fails its check, is adjusted, and is good again -------------------------------------------
at 2026-05-08T07:40+01:00
"$tierproof" thermometer-check fork 2.4C --in ice
"$tierproof" went-wrong "the fork thermometer read 2.4 C in melting ice" --about fork --shown-by control --control thermometer
at 2026-05-08T08:10+01:00
"$tierproof" thermometer-check fork 0.1C --in ice
"$tierproof" put-right trouble-2 --food used --cause "its battery was low" \
  --done "new battery, adjusted and checked; what it read since 2 May counts for nothing"
"$tierproof" settle complaint-1 --outcome "a splinter of a dowel; dowels are cut with the saw now and counted, and the customer was answered"

at 2026-05-08T11:00+01:00
"$tierproof" tier cake-5 bottom --part batch-19=900g --part batch-18=120g --part batch-22=420g --part batch-23=300g --not-food dowel=4
"$tierproof" tier cake-5 top --part batch-19=500g --part batch-18=60g --part batch-22=260g --part batch-23=200g \
  --part batch-24=40g --part batch-17=60g
"$tierproof" put cake-5 --in cake-fridge
at 2026-05-08T13:00+01:00
"$tierproof" tier cake-6 tower --part batch-21=800g --part batch-20=500g --part batch-25=60g --not-food "cone of card"=1
"$tierproof" put cake-6 --in cake-fridge
"$tierproof" label cake-6 --stock sheet-99x139 --into "$into"

# ---- Friday evening: the answer changes after baking ------------------------------------------------------------------------
at 2026-05-08T18:30+01:00
"$tierproof" allergy cake-6 --answer named --allergen nuts:almond --of "Customer Six, by telephone" \
  --told "It is made of almonds, so it cannot be for a guest who is allergic to them." \
  --why "a guest who was invited later is allergic to almonds"
evening 2026-05-08

# ---- Saturday ---------------------------------------------------------------------------------------------------------------
at 2026-05-09T10:16+01:00
fridge_log plain 102 35 2026-05-02T12:20 2026-05-09T10:15 >"$work/cake-fridge-2.csv"
fridge_log semicolon 202 38 2026-05-02T12:20 2026-05-09T10:15 >"$work/second-fridge-2.csv"
"$tierproof" temperature fridge-logger --file "$work/cake-fridge-2.csv" --of cake-fridge
"$tierproof" temperature second-logger --file "$work/second-fridge-2.csv" --format second-fridge --of second-fridge
"$tierproof" thermometer-check fridge-logger 0.2C --in ice
"$tierproof" thermometer-check second-logger 0.1C --in ice
for cake in cake-5 cake-6; do "$tierproof" check $cake || true; done
# The mixer that made its buttercream had made almonds before and was washed, not tested: iris decides that the label tells it.
at 2026-05-09T10:18+01:00
"$tierproof" precaution nuts:almond --about cake-5 \
  --why "the stand mixer made almond sponge the day before; it was washed and looked clean, and nobody tested it"
at 2026-05-09T10:20+01:00
"$tierproof" release cake-5 \
  --against allergy-answer="Read the customer's message of 5 May again: traces of hazelnuts are accepted, and none is an ingredient." \
  --against syrup-heat="The caramel set firm and tastes right; the fork read too high by 2 degrees, so it was hotter than 110 at least." \
  --against thermometer="The fork was adjusted on 8 May; what it read before carries nothing but how hard the caramel sets." \
  --against went-wrong="The caramel is the only thing in it that the fork measured while it read too high."
"$tierproof" release cake-6 || echo "cake-6 stays: it is made of what a guest is allergic to"
at 2026-05-09T10:30+01:00
for cake in cake-5 cake-6; do "$tierproof" label $cake --stock sheet-99x139 --into "$into"; done
at 2026-05-09T10:40+01:00
"$tierproof" hand-over cake-5 --to "Customer Five" --temperature 4.8C \
  --told "It contains wheat, eggs, milk and soya, and may contain hazelnuts and almonds in traces. Keep it in the fridge; remove 4 dowels before eating."
for cake in cake-5 cake-6; do "$tierproof" record $cake --into "$into"; done
"$tierproof" throw-away cake-6 --why "made of almonds, for a guest who is allergic to them; its lustre is not for food"
evening 2026-05-09
