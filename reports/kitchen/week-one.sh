# Week one, 27 April to 3 May: four cakes for Saturday 2 May. cake-1 may leave. cake-2 is stopped, since a pouch does not say whether
# sesame is in it; it is binned and made again without that pouch as cake-4. cake-3 has whites that were heated by hand and a fridge
# without readings for an afternoon, and leaves against that, with reasons that its record prints on page one.

# ---- Tuesday: deliveries ----------------------------------------------------------------------------------------------------
at 2026-04-28T09:00+01:00
"$tierproof" receive wheat-flour --from mill --code M2604 --mass 2kg --best-before 2026-10-31                                # pack-1
"$tierproof" receive caster-sugar --from wholesaler --code S118 --mass 20kg --best-before 2028-01-31
"$tierproof" receive butter --from dairy --code BU77 --mass 10kg --use-by 2026-05-20 --dispatched 2026-04-28
"$tierproof" receive milk --from dairy --code MK12 --mass 4kg --use-by 2026-05-06 --dispatched 2026-04-28
"$tierproof" receive shell-eggs --from egg-farm --code E0428 --mass 6kg --best-before 2026-05-20 --dispatched 2026-04-27
"$tierproof" receive egg-white --from egg-works --code W31 --mass 2kg --use-by 2026-05-12 --dispatched 2026-04-27
"$tierproof" receive baking-powder --from wholesaler --code BP9 --mass 500g --best-before 2027-03-31
"$tierproof" receive lemon-juice --from wholesaler --code LJ5 --mass 1kg --best-before 2026-12-31
"$tierproof" receive vanilla-extract --from wholesaler --code VE2 --mass 200g --best-before 2028-06-30
"$tierproof" receive water --from tap --code mains --mass 20kg                                                               # pack-10
"$tierproof" receive raspberry-jam --from wholesaler --code RJ44 --mass 2kg --best-before 2027-02-28
"$tierproof" receive sugar-flowers --from decorations --code SF8 --mass 500g --best-before 2027-04-30
"$tierproof" receive ground-almonds --from wholesaler --code GA7 --mass 2kg --best-before 2026-11-30
"$tierproof" receive pistachios --from wholesaler --code PI3 --mass 1kg --best-before 2026-12-31
"$tierproof" receive strawberry-pieces --from decorations --code ST6 --mass 400g --best-before 2027-01-31
"$tierproof" receive dried-apricots --from wholesaler --code AP1 --mass 1kg --best-before 2026-12-31
"$tierproof" receive orange-blossom-water --from wholesaler --code OB1 --mass 200g --best-before 2027-08-31
"$tierproof" receive gold-leaf --from decorations --code GL1 --mass 10g --best-before 2030-12-31
"$tierproof" receive dried-raspberries --from decorations --code FR2 --mass 300g --best-before 2027-02-28                    # pack-19
"$tierproof" top-up flour-tub pack-1

# ---- three orders, each with the allergy question ---------------------------------------------------------------------------
"$tierproof" cake --name "Lemon and raspberry cake" --for 2026-05-02 --boxed before --sold-by maker --ordered face-to-face --boxes 1 --face 1200 \
  --allergy none --of "the customer at the stall" \
  --told "It contains wheat, eggs and milk, and may contain hazelnuts."
"$tierproof" cake --name "Pistachio and strawberry cake" --for 2026-05-02 --customer "Customer Two" \
  --boxed after --sold-by maker --ordered face-to-face --face 900 \
  --allergy none --of "Customer Two, in the shop" \
  --told "It contains wheat, eggs, milk and pistachio nuts."
"$tierproof" cake --name "Orange blossom and almond cake" --for 2026-05-02 --customer "Customer Three" \
  --boxed after --sold-by maker --ordered face-to-face --face 900 \
  --allergy none --of "Customer Three, in the shop" \
  --told "It contains wheat, eggs, milk, almonds and sulphites, and whites that were heated by hand."
evening 2026-04-28

# ---- Wednesday: thermometers are checked before they are believed -----------------------------------------------------------
at 2026-04-29T05:50+01:00
"$tierproof" thermometer-check fork 0.2C --in ice
"$tierproof" thermometer-check fridge-logger 0.1C --in ice
"$tierproof" thermometer-check second-logger -0.1C --in ice
evening 2026-04-29

# ---- Thursday: what has no nuts is made first -------------------------------------------------------------------------------
at 2026-04-30T09:00+01:00
"$tierproof" make lemon-sponge --times 2 --yield 3120g                              # batch-1
at 2026-04-30T09:47+01:00
"$tierproof" make pastry-cream --yield 860g                                         # batch-2
"$tierproof" temperature fork --file "$here"/readings/pastry-cream.csv --of batch-2
"$tierproof" put batch-2 --in cake-fridge
at 2026-04-30T10:30+01:00
"$tierproof" make raspberry-filling --yield 516g                                    # batch-3
at 2026-04-30T10:50+01:00
"$tierproof" clean stand-mixer --how "washed, looked clean"
at 2026-04-30T11:00+01:00
"$tierproof" open pack-6
"$tierproof" make white-buttercream --times 2 --yield 2800g                         # batch-4
"$tierproof" put batch-4 --in cake-fridge

# ---- then the nuts, on the same mixer ---------------------------------------------------------------------------------------
at 2026-04-30T12:00+01:00
"$tierproof" make pistachio-sponge --yield 1380g                                    # batch-5
at 2026-04-30T12:25+01:00
"$tierproof" clean stand-mixer --how "washed and tested" --tested "protein swab" --for protein --found nothing
at 2026-04-30T12:40+01:00
"$tierproof" make almond-sponge --yield 1360g                                       # batch-6
at 2026-04-30T12:55+01:00
"$tierproof" clean stand-mixer --how "washed and tested" --tested "protein swab" --for protein --found nothing
at 2026-04-30T13:30+01:00
"$tierproof" make hand-buttercream --yield 1400g                                    # batch-7
"$tierproof" temperature fork --file "$here"/readings/hand-whites.csv --of batch-7
"$tierproof" put batch-7 --in second-fridge
evening 2026-04-30

# ---- Friday: syrup, meringue, decorations -----------------------------------------------------------------------------------
at 2026-05-01T10:16+01:00
"$tierproof" make boiled-syrup --yield 340g                                         # batch-8
"$tierproof" temperature fork --file "$here"/readings/syrup.csv --of batch-8 --for syrup
"$tierproof" make soft-meringue --yield 460g                                        # batch-9
"$tierproof" put batch-9 --in cake-fridge
at 2026-05-01T11:00+01:00
"$tierproof" make flower-spray --yield 60g                                          # batch-10
"$tierproof" make strawberry-crunch --yield 100g                                    # batch-11
"$tierproof" make gilded-apricots --yield 162g                                      # batch-12

# ---- stacking ---------------------------------------------------------------------------------------------------------------
at 2026-05-01T14:00+01:00
"$tierproof" tier cake-1 bottom --part batch-1=1500g --part batch-4=700g --part batch-2=400g --not-food dowel=4
"$tierproof" tier cake-1 middle --part batch-1=900g --part batch-4=420g --part batch-3=300g --not-food dowel=4
"$tierproof" tier cake-1 top --part batch-1=500g --part batch-4=240g --part batch-9=300g --part batch-10=60g --not-food "flower wire"=3
"$tierproof" put cake-1 --in cake-fridge
at 2026-05-01T15:00+01:00
"$tierproof" tier cake-2 bottom --part batch-5=900g --part batch-4=500g --part batch-11=60g --not-food dowel=4
"$tierproof" tier cake-2 top --part batch-5=440g --part batch-4=260g --part batch-11=40g
"$tierproof" put cake-2 --in cake-fridge
at 2026-05-01T16:00+01:00
"$tierproof" tier cake-3 bottom --part batch-6=900g --part batch-7=640g --not-food dowel=4
"$tierproof" tier cake-3 top --part batch-6=440g --part batch-7=420g --part batch-12=120g
"$tierproof" put cake-3 --in second-fridge

# ---- cake-2 is stopped: the pouch of strawberries says nothing of sesame, and the supplier cannot answer before Saturday ------
at 2026-05-01T16:20+01:00
"$tierproof" check cake-2 || true
"$tierproof" release cake-2 || echo "cake-2 stays: nobody can release against an unknown allergen"
"$tierproof" went-wrong "the pouch of strawberries does not say whether sesame is in it" --about pack-15 --about cake-2 \
  --shown-by control --control allergens-known
"$tierproof" told cake-2 --when before-hand-over --to "Customer Two, by telephone" \
  --words "We cannot tell whether sesame is in the strawberries, so we make your cake again tonight, with raspberries."

# ---- it is made again the same evening, with raspberries from a tub of their own ----------------------------------------------
at 2026-05-01T16:30+01:00
"$tierproof" cake --name "Pistachio and raspberry cake" --for 2026-05-02 --customer "Customer Two" \
  --boxed after --sold-by maker --ordered face-to-face --face 900 \
  --allergy none --of "Customer Two, by telephone" \
  --told "We make it again with raspberries: wheat, eggs, milk and pistachio nuts, and it may contain almonds."
"$tierproof" clean stand-mixer --how "washed and tested" --tested "protein swab" --for protein --found nothing
at 2026-05-01T17:00+01:00
"$tierproof" make pistachio-sponge --yield 1380g                                    # batch-13
at 2026-05-01T17:30+01:00
"$tierproof" clean stand-mixer --how "washed and tested" --tested "protein swab" --for protein --found nothing
at 2026-05-01T18:00+01:00
"$tierproof" make white-buttercream --yield 1400g                                   # batch-14
"$tierproof" put batch-14 --in cake-fridge
"$tierproof" make raspberry-crunch --yield 100g                                     # batch-15
at 2026-05-01T19:30+01:00
"$tierproof" tier cake-4 bottom --part batch-13=900g --part batch-14=500g --part batch-15=60g --not-food dowel=4
"$tierproof" tier cake-4 top --part batch-13=440g --part batch-14=260g --part batch-15=40g
"$tierproof" put cake-4 --in cake-fridge
# The first one is binned, and what is left in the pouch with it.
at 2026-05-01T20:00+01:00
"$tierproof" put-right trouble-1 --food binned --cause "nobody read the pouch when it came" \
  --done "the supplier is asked about sesame; pouches are read on arrival, against the list of allergens"
evening 2026-05-01

# ---- Saturday: the loggers are read, and the thermometers checked again -----------------------------------------------------
at 2026-05-02T12:16+01:00
fridge_log plain 101 35 2026-04-29T06:00 2026-05-02T12:15 >"$work/cake-fridge-1.csv"
fridge_log semicolon 201 38 2026-04-29T06:00 2026-05-02T12:15 gap=2026-05-01T09:35..2026-05-01T13:45 >"$work/second-fridge-1.csv"
"$tierproof" temperature fridge-logger --file "$work/cake-fridge-1.csv" --of cake-fridge
"$tierproof" temperature second-logger --file "$work/second-fridge-1.csv" --format second-fridge --of second-fridge
"$tierproof" thermometer-check fork 0.3C --in ice
"$tierproof" thermometer-check fridge-logger 0.1C --in ice
"$tierproof" thermometer-check second-logger 0.0C --in ice

# ---- may they leave? --------------------------------------------------------------------------------------------------------
for cake in cake-1 cake-3 cake-4; do "$tierproof" check $cake || true; done
at 2026-05-02T12:20+01:00
"$tierproof" release cake-1
"$tierproof" release cake-3 \
  --against egg-heat="The customer was told that the whites were heated by hand, asked for this recipe, and nobody vulnerable will eat it; next time pasteurised white." \
  --against cold-hold="The second fridge's logger was unplugged for four hours on 1 May; its door stayed shut and the food felt cold when it came out." \
  --against additives-permitted="The gold is laid on the apricots alone, which are taken off before cutting; asked the supplier for its permitted uses."
"$tierproof" release cake-4

# ---- the papers -------------------------------------------------------------------------------------------------------------
at 2026-05-02T12:30+01:00
for cake in cake-1 cake-2 cake-3 cake-4; do "$tierproof" label $cake --stock sheet-99x139 --into "$into"; done
at 2026-05-02T12:40+01:00
"$tierproof" hand-over cake-1 --to "the customer at the stall" --temperature 5.4C \
  --told "It contains wheat, eggs and milk, and may contain hazelnuts. Keep it in the fridge; remove 8 dowels and 3 wires before eating."
"$tierproof" hand-over cake-3 --to "Customer Three" --temperature 6.1C \
  --told "It contains wheat, eggs, milk, almonds and sulphites. The whites were heated by hand: not for the very young, the old, the pregnant or the ill. Remove 4 dowels."
"$tierproof" hand-over cake-4 --to "Customer Two" --temperature 5.0C \
  --told "It contains wheat, eggs, milk and pistachio nuts, and may contain almonds. Keep it in the fridge; remove 4 dowels before eating."
at 2026-05-02T12:42+01:00
for cake in cake-1 cake-2 cake-3 cake-4; do "$tierproof" record $cake --into "$into"; done
at 2026-05-02T13:00+01:00
"$tierproof" throw-away batch-8 --why "boiled syrup is not kept"
"$tierproof" throw-away batch-7 --why "what is left of the whites that were heated by hand is not kept"
evening 2026-05-02
