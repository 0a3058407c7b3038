# Before the first week: the kitchen, its people, what it buys from whom, what packs say, what it makes, and what it measures with.
# Sourced by reports/demo, which sets: tierproof (the program), here (this folder), into (where papers go). Everything here is invented.

at() { export TIERPROOF_NOW=$1; }
# The end of a day's work: everything regular that was due was looked at.
evening() {
  at "$1T20:30+01:00"
  "$tierproof" all-fine
  "$tierproof" all-fine --end
}

at 2026-04-27T08:00+01:00
export TIERPROOF_BY=iris
"$tierproof" start --name "Seven Terns Cakes" --address "Unit 0, Example Yard" --address "Exampleton EX0 0XX" --zone Europe/London \
  --label-rules gb --temperature-rules gb-eng --retention-rules gb --altitude 40 --owner iris="Iris Sample" --demo three-weeks
"$tierproof" person odo --name "Odo Sample" --role helper

# ---- who delivers -----------------------------------------------------------------------------------------------------------
"$tierproof" supplier mill --name "Example Mill" --address "1 Mill Lane, Exampleton"
"$tierproof" supplier wholesaler --name "Example Baking Supplies" --address "2 Dock Road, Exampleton"
"$tierproof" supplier dairy --name "Example Dairy" --address "3 Meadow Way, Exampleton"
"$tierproof" supplier egg-farm --name "Example Egg Farm" --address "4 Hill Farm, Exampleton"
"$tierproof" supplier egg-works --name "Example Egg Products" --address "5 Works Road, Exampleton"
"$tierproof" supplier decorations --name "Example Decorations" --address "6 Market Row, Exampleton"
"$tierproof" supplier tap --name "Example Water" --address "7 Reservoir Road, Exampleton"
# Two more stand in a table: the first command shows what it would change, the second records it.
"$tierproof" take-in suppliers "$here/more-suppliers.csv"
"$tierproof" take-in suppliers "$here/more-suppliers.csv" --book

# ---- what is bought: 35 foods -----------------------------------------------------------------------------------------------
"$tierproof" ingredient wheat-flour --name "plain flour"
"$tierproof" ingredient caster-sugar --name "caster sugar" --sugar
"$tierproof" ingredient icing-sugar --name "icing sugar" --sugar
"$tierproof" ingredient glucose-syrup --name "glucose syrup" --sugar
"$tierproof" ingredient butter --name "unsalted butter" --animal
"$tierproof" ingredient milk --name "whole milk" --animal
"$tierproof" ingredient double-cream --name "double cream" --animal
"$tierproof" ingredient shell-eggs --name "hen's eggs" --animal --egg shell
"$tierproof" ingredient egg-white --name "pasteurised egg white" --animal --egg pasteurised
"$tierproof" ingredient dried-egg-white --name "dried egg white" --animal --egg "dried pasteurised"
"$tierproof" ingredient baking-powder --name "baking powder"
"$tierproof" ingredient cornflour --name "cornflour"
"$tierproof" ingredient cocoa-powder --name "cocoa powder"
"$tierproof" ingredient dark-chocolate --name "dark chocolate"
"$tierproof" ingredient sea-salt --name "sea salt"
"$tierproof" ingredient cream-of-tartar --name "cream of tartar"
"$tierproof" ingredient lemon-juice --name "lemon juice"
"$tierproof" ingredient lemons --name "lemons"
"$tierproof" ingredient oranges --name "oranges"
"$tierproof" ingredient orange-colour --name "orange colour paste"
"$tierproof" ingredient elderflower-cordial --name "elderflower cordial"
"$tierproof" ingredient vanilla-extract --name "vanilla extract"
"$tierproof" ingredient water --name "water" --water
"$tierproof" ingredient raspberry-jam --name "raspberry jam"
"$tierproof" ingredient sugar-flowers --name "pink sugar flowers"
"$tierproof" ingredient sugar-pearls --name "sugar pearls"
"$tierproof" ingredient lustre-dust --name "lustre dust"
"$tierproof" ingredient ground-almonds --name "ground almonds"
"$tierproof" ingredient hazelnut-paste --name "hazelnut paste"
"$tierproof" ingredient pistachios --name "pistachio nuts"
"$tierproof" ingredient strawberry-pieces --name "freeze-dried strawberry pieces"
"$tierproof" ingredient dried-raspberries --name "freeze-dried raspberries"
"$tierproof" ingredient dried-apricots --name "dried apricots"
"$tierproof" ingredient orange-blossom-water --name "orange blossom water"
"$tierproof" ingredient gold-leaf --name "gold leaf"
"$tierproof" specification "$here"/packs/*.json

# ---- what it is made with, and how ------------------------------------------------------------------------------------------
"$tierproof" kit stand-mixer --name "stand mixer"
"$tierproof" kit saucepan --name "saucepan"
"$tierproof" kit piping-bag --name "piping bag"
"$tierproof" kit palette-knife --name "palette knife"
"$tierproof" kit drying-rack --name "drying rack"
"$tierproof" kit crunch-tub --name "strawberry tub"
"$tierproof" kit raspberry-tub --name "raspberry tub"
"$tierproof" kit gilding-brush --name "gilding brush"
"$tierproof" kit lustre-brush --name "lustre brush"
"$tierproof" tub flour-tub --name "flour tub" --of wheat-flour
"$tierproof" recipe "$here"/recipes/boiled-syrup.json "$here"/recipes/[!b]*.json
# Curd is far richer in sugar than the tables for egg speak of, so it rests on a test that a laboratory made of this very recipe.
"$tierproof" validation lemon-curd --at 78C --hold 2 --made-by "Example Food Laboratory" --kept "blue folder, sheet 3" --on 2026-03-16

# ---- where things stand, and the three thermometers -------------------------------------------------------------------------
"$tierproof" place cake-fridge --name "cake fridge" --kind fridge
"$tierproof" place second-fridge --name "second fridge" --kind fridge
"$tierproof" place freezer --name "chest freezer" --kind freezer
"$tierproof" thermometer fork --name "fork thermometer" --error 0.5C --step 0.1C --measures food
"$tierproof" thermometer fridge-logger --name "cake fridge logger" --error 0.5C --step 0.1C --measures air --in cake-fridge
"$tierproof" thermometer second-logger --name "second fridge logger" --error 0.5C --step 0.1C --measures air --in second-fridge
# The second fridge's logger writes its files in a manner of its own, which is kept under a name.
"$tierproof" logger-layout second-fridge "$here"/second-fridge-layout.tsv

# ---- the hazard plan, what is looked at regularly, and the day on which nobody works ---------------------------------------------
"$tierproof" plan --write "$work/plan.json"
sed -i 's/Say here who orders from this kitchen, and whether hospitals, nurseries or homes are among them\./Orders come from families and a tea room in the town; no hospital, nursery or home is among them./' "$work/plan.json"
"$tierproof" plan-take "$work/plan.json"
"$tierproof" regular --take-over all
"$tierproof" day-off --each-week sunday
"$tierproof" done training who=odo topic="allergens, and what to ask of a customer" how="shown here"
"$tierproof" done insurance registered=yes insured-until=2027-03-31
"$tierproof" officer-said --who "Officer Sample" --from "Example Council" --on 2026-03-12 --topic "egg white" --about egg-heat \
  --words "Use pasteurised egg white for anything that is not baked, or write down the temperature of the mix."
