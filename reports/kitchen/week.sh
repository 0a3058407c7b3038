# One working week of the demo kitchen, told in the program's own commands. Everything here is invented.
# Sourced by reports/demo, which sets: tierproof (the program), here (this folder), into (where papers go).
#
# Three cakes: cake-1 may leave; cake-2 is stopped, since a pouch does not say whether sesame is in it; cake-3 has whites that were
# heated by hand and a fridge without readings for an afternoon, and leaves against that with reasons printed on page one.

at() { export TIERPROOF_NOW=$1; }

# ---- the kitchen, its people, its things ------------------------------------------------------------------------------------
at 2026-04-27T08:00+01:00
export TIERPROOF_BY=iris
"$tierproof" start --name "Seven Terns Cakes" --address "Unit 0, Example Yard" --address "Exampleton EX0 0XX" --zone Europe/London \
  --label-rules gb --temperature-rules gb-eng --retention-rules gb --altitude 40 --owner iris="Iris Sample" --demo week-one
"$tierproof" person odo --name "Odo Sample" --role helper

"$tierproof" supplier mill --name "Example Mill" --address "1 Mill Lane, Exampleton"
"$tierproof" supplier wholesaler --name "Example Baking Supplies" --address "2 Dock Road, Exampleton"
"$tierproof" supplier dairy --name "Example Dairy" --address "3 Meadow Way, Exampleton"
"$tierproof" supplier egg-farm --name "Example Egg Farm" --address "4 Hill Farm, Exampleton"
"$tierproof" supplier egg-works --name "Example Egg Products" --address "5 Works Road, Exampleton"
"$tierproof" supplier decorations --name "Example Decorations" --address "6 Market Row, Exampleton"
"$tierproof" supplier tap --name "Example Water" --address "7 Reservoir Road, Exampleton"

"$tierproof" ingredient wheat-flour --name "plain flour"
"$tierproof" ingredient caster-sugar --name "caster sugar" --sugar
"$tierproof" ingredient butter --name "unsalted butter" --animal
"$tierproof" ingredient milk --name "whole milk" --animal
"$tierproof" ingredient shell-eggs --name "hen's eggs" --animal --egg shell
"$tierproof" ingredient egg-white --name "pasteurised egg white" --animal --egg pasteurised
"$tierproof" ingredient baking-powder --name "baking powder"
"$tierproof" ingredient lemon-juice --name "lemon juice"
"$tierproof" ingredient vanilla-extract --name "vanilla extract"
"$tierproof" ingredient water --name "water" --water
"$tierproof" ingredient raspberry-jam --name "raspberry jam"
"$tierproof" ingredient sugar-flowers --name "pink sugar flowers"
"$tierproof" ingredient ground-almonds --name "ground almonds"
"$tierproof" ingredient pistachios --name "pistachio nuts"
"$tierproof" ingredient strawberry-pieces --name "freeze-dried strawberry pieces"
"$tierproof" ingredient dried-apricots --name "dried apricots"
"$tierproof" ingredient orange-blossom-water --name "orange blossom water"
"$tierproof" ingredient gold-leaf --name "gold leaf"
"$tierproof" specification "$here"/packs/*.json

"$tierproof" kit stand-mixer --name "stand mixer"
"$tierproof" kit saucepan --name "saucepan"
"$tierproof" kit palette-knife --name "palette knife"
"$tierproof" kit crunch-tub --name "strawberry tub"
"$tierproof" kit gilding-brush --name "gilding brush"
"$tierproof" recipe "$here"/recipes/boiled-syrup.json "$here"/recipes/[!b]*.json

"$tierproof" place cake-fridge --name "cake fridge" --kind fridge
"$tierproof" place second-fridge --name "second fridge" --kind fridge
"$tierproof" thermometer fork --name "fork thermometer" --error 0.5C --step 0.1C --measures food
"$tierproof" thermometer fridge-logger --name "cake fridge logger" --error 0.5C --step 0.1C --measures air --in cake-fridge
"$tierproof" thermometer second-logger --name "second fridge logger" --error 0.5C --step 0.1C --measures air --in second-fridge

# ---- deliveries -------------------------------------------------------------------------------------------------------------
at 2026-04-28T09:00+01:00
"$tierproof" receive wheat-flour --from mill --code M2604 --mass 16kg --best-before 2026-10-31
"$tierproof" receive caster-sugar --from wholesaler --code S118 --mass 20kg --best-before 2028-01-31
"$tierproof" receive butter --from dairy --code BU77 --mass 10kg --use-by 2026-05-20 --dispatched 2026-04-28
"$tierproof" receive milk --from dairy --code MK12 --mass 4kg --use-by 2026-05-06 --dispatched 2026-04-28
"$tierproof" receive shell-eggs --from egg-farm --code E0428 --mass 6kg --best-before 2026-05-20 --dispatched 2026-04-27
"$tierproof" receive egg-white --from egg-works --code W31 --mass 2kg --use-by 2026-05-12 --dispatched 2026-04-27
"$tierproof" receive baking-powder --from wholesaler --code BP9 --mass 500g --best-before 2027-03-31
"$tierproof" receive lemon-juice --from wholesaler --code LJ5 --mass 1kg --best-before 2026-12-31
"$tierproof" receive vanilla-extract --from wholesaler --code VE2 --mass 200g --best-before 2028-06-30
"$tierproof" receive water --from tap --code mains --mass 20kg
"$tierproof" receive raspberry-jam --from wholesaler --code RJ44 --mass 2kg --best-before 2027-02-28
"$tierproof" receive sugar-flowers --from decorations --code SF8 --mass 500g --best-before 2027-04-30
"$tierproof" receive ground-almonds --from wholesaler --code GA7 --mass 2kg --best-before 2026-11-30
"$tierproof" receive pistachios --from wholesaler --code PI3 --mass 1kg --best-before 2026-12-31
"$tierproof" receive strawberry-pieces --from decorations --code ST6 --mass 400g --best-before 2027-01-31
"$tierproof" receive dried-apricots --from wholesaler --code AP1 --mass 1kg --best-before 2026-12-31
"$tierproof" receive orange-blossom-water --from wholesaler --code OB1 --mass 200g --best-before 2027-08-31
"$tierproof" receive gold-leaf --from decorations --code GL1 --mass 10g --best-before 2030-12-31

# ---- three orders, each with the allergy question ---------------------------------------------------------------------------
"$tierproof" cake --name "Lemon and raspberry cake" --for 2026-05-02 --boxed before --sold-by maker --ordered face-to-face --boxes 1 --face 1200
"$tierproof" allergy cake-1 --answer none --of "the customer at the stall" --told "It contains wheat, eggs and milk, and may contain hazelnuts."
"$tierproof" cake --name "Pistachio and strawberry cake" --for 2026-05-02 --customer "Customer Two" --boxed after --sold-by maker --ordered face-to-face --face 900
"$tierproof" allergy cake-2 --answer none --of "Customer Two, in the shop" --told "It contains wheat, eggs, milk and pistachio nuts."
"$tierproof" cake --name "Orange blossom and almond cake" --for 2026-05-02 --customer "Customer Three" --boxed after --sold-by maker --ordered face-to-face --face 900
"$tierproof" allergy cake-3 --answer none --of "Customer Three, in the shop" --told "It contains wheat, eggs, milk, almonds and sulphites, and whites that were heated by hand."

# ---- thermometers are checked before they are believed ----------------------------------------------------------------------
at 2026-04-29T05:50+01:00
"$tierproof" thermometer-check fork 0.2C --in ice
"$tierproof" thermometer-check fridge-logger 0.1C --in ice
"$tierproof" thermometer-check second-logger -0.1C --in ice

# ---- what has no nuts is made first -----------------------------------------------------------------------------------------
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
"$tierproof" make white-buttercream --times 2 --yield 2800g                         # batch-4
"$tierproof" put batch-4 --in cake-fridge

# ---- then the nuts, on the same mixer ---------------------------------------------------------------------------------------
at 2026-04-30T12:00+01:00
"$tierproof" make pistachio-sponge --yield 1380g                                    # batch-5
at 2026-04-30T12:25+01:00
"$tierproof" clean stand-mixer --how "washed and tested"
at 2026-04-30T12:40+01:00
"$tierproof" make almond-sponge --yield 1360g                                       # batch-6
at 2026-04-30T12:55+01:00
"$tierproof" clean stand-mixer --how "washed and tested"
at 2026-04-30T13:30+01:00
"$tierproof" make hand-buttercream --yield 1400g                                    # batch-7
"$tierproof" temperature fork --file "$here"/readings/hand-whites.csv --of batch-7
"$tierproof" put batch-7 --in second-fridge

# ---- 1 May: syrup, meringue, decorations ------------------------------------------------------------------------------------
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

# ---- 2 May: the loggers are read, and the thermometers checked again ----------------------------------------------------------
at 2026-05-02T12:16+01:00
"$tierproof" temperature fridge-logger --file "$here"/readings/cake-fridge.csv --of cake-fridge
"$tierproof" temperature second-logger --file "$here"/readings/second-fridge.csv --of second-fridge
"$tierproof" thermometer-check fork 0.3C --in ice
"$tierproof" thermometer-check fridge-logger 0.1C --in ice
"$tierproof" thermometer-check second-logger 0.0C --in ice

# ---- may they leave? --------------------------------------------------------------------------------------------------------
for cake in cake-1 cake-2 cake-3; do "$tierproof" check $cake || true; done
at 2026-05-02T12:20+01:00
"$tierproof" release cake-1
"$tierproof" release cake-2 || echo "cake-2 stays: nobody can release against an unknown allergen"
"$tierproof" release cake-3 \
  --against egg-heat="The customer was told that the whites were heated by hand, asked for this recipe, and nobody vulnerable will eat it; next time pasteurised white." \
  --against cold-hold="The second fridge's logger was unplugged for four hours on 1 May; its door stayed shut and the food felt cold when it came out." \
  --against additives-permitted="The gold is laid on the apricots alone, which are taken off before cutting; asked the supplier for its permitted uses."

# ---- the papers -------------------------------------------------------------------------------------------------------------
at 2026-05-02T12:30+01:00
"$tierproof" label cake-1 --stock sheet-99x139 --into "$into"
"$tierproof" label cake-2 --stock sheet-99x139 --into "$into"
"$tierproof" label cake-3 --stock sheet-99x139 --into "$into"
at 2026-05-02T12:40+01:00
"$tierproof" hand-over cake-1 --to "the customer at the stall" --temperature 5.4C \
  --told "It contains wheat, eggs and milk, and may contain hazelnuts. Keep it in the fridge; remove 8 dowels and 3 wires before eating."
"$tierproof" hand-over cake-3 --to "Customer Three" --temperature 6.1C \
  --told "It contains wheat, eggs, milk, almonds and sulphites. The whites were heated by hand: not for the very young, the old, the pregnant or the ill. Remove 4 dowels."
at 2026-05-02T12:42+01:00
for cake in cake-1 cake-2 cake-3; do "$tierproof" record $cake --into "$into"; done
"$tierproof" verify
