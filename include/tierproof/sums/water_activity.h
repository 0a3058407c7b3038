#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace tierproof {

// Estimates of water activity. They may say that something needs the fridge or an assessment; none of them ever shows that it does not.

/// Something dissolved.
struct Solute {
  std::string_view name;  ///< `sucrose`, `invert sugar`, `NaCl`
  double molar_mass = 0;  ///< g/mol
  double norrish_k = 0;   ///< natural logarithm; of NaCl nothing, it goes by Pitzer
  double most_dissolved =
      1;  ///< share by mass of a saturated solution at 20 °C; of sucrose see `sucrose_solubility`; 1: it mixes with water
};
/// All that are known: sugars, polyols, acids, ethanol and salt. Norrish constants as Chirife and others 1980 and public tables print them.
std::span<const Solute> solutes();
const Solute* solute(std::string_view name);

/// Share by mass of a saturated sucrose solution at `celsius` (0..100 °C): `64.397 + 0.07251 t + 0.0020569 t^2 - 9.035e-6 t^3` per cent
/// (Vavrinecz, ICUMSA; from memory). Outside that range the nearer end.
double sucrose_solubility(double celsius);

/// Water activity of `share` of one solute by mass alone in water, 25 °C: `xw exp(-K xs^2)` (Norrish 1966), salt by Pitzer and Mayorga
/// 1973.
/// @throws std::invalid_argument unless the share is in 0..1, 1 left out
double activity_alone(const Solute& solute, double share);
/// The osmotic coefficient of NaCl at 25 °C and `molality` mol/kg (Pitzer and Mayorga 1973).
double salt_osmotic_coefficient(double molality);

/// Grams of each solute that are dissolved in `water_g` grams of water.
struct Dissolved {
  double water_g = 0;
  std::map<std::string_view, double> grams;  ///< by `Solute::name`
};
/// By Ross 1975: the product of the activities that each solute would give alone in all the water; any mix, salt included. 0 without water.
double ross_activity(const Dissolved& solution);
/// By the mixing rule for Norrish's equation, `xw exp(-(sum of sqrt(K) x)^2)` (from memory); nothing where a solute has a constant below 0
/// or is salt.
std::optional<double> norrish_mixture_activity(const Dissolved& solution);
/// By Ferro Fontan, Chirife and Boquet 1981, `Km = sum of K C Mt / M`, C the share of the solutes' mass; nothing with salt.
std::optional<double> ferro_fontan_activity(const Dissolved& solution);

/// One ingredient of a part.
struct ActivityPart {
  double grams = 0;
  double water = 0;                            ///< share by mass
  std::map<std::string_view, double> solutes;  ///< shares by mass, by `Solute::name`
};

/// What an estimate of a part comes to.
struct ActivityEstimate {
  double clear = 1;        ///< as if all were dissolved
  double activity = 1;     ///< with no more dissolved than can be, or `clear`, the higher: what is judged
  double with_margin = 1;  ///< and 0.02 for the model, at most 1
  double water_g = 0;
  std::vector<std::string> capped;  ///< solutes of which some stays undissolved
};
/// The estimate by Ross at `celsius`, where it is kept. Fat, starch, cocoa and protein count as nothing. Nothing without any water.
/// @throws std::invalid_argument for a mass or share below 0, or shares above 1
std::optional<ActivityEstimate> estimate_activity(std::span<const ActivityPart> parts, double celsius);

/// Days before mould is seen on cake of `humidity` per cent equilibrium relative humidity (74..90) at 21 °C: `10^(7.91 - 0.081 ERH)`
/// (Cauvain and Seiler). Quality alone, never a date of safety.
double mould_free_days(double humidity);

}  // namespace tierproof
