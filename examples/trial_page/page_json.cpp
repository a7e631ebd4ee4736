#include "page_json.hpp"

#include <nlohmann/json.hpp>

#include "hardchine/version.hpp"
#include "page_units.hpp"

namespace trial_page {

using namespace hardchine;

namespace {

using Json = nlohmann::ordered_json;

/// A number, or null if it is unset.
Json number_or_null(double x) { return std::isfinite(x) ? Json(x) : Json(nullptr); }

template <class Q>
Json quantity(const Figure<Q>& figure, const Named<Q>& named) {
  if (!is_set(figure.value)) return nullptr;
  const double unit = bare_value(named.unit);
  return {{"value", number_or_null(bare_value(figure.value) / unit)},
          {"last_place", number_or_null(bare_value(figure.last_place) / unit)},
          {"unit", named.symbol}};
}
/// A plain number: its unit is 1.
Json quantity(const Figure<double>& figure) { return quantity(figure, Named<double>{1.0, "1"}); }

class Writer {
 public:
  Writer(const TrialFile& trial, const ReducedDay& day, UnitSystem system)
      : trial_(trial), day_(day), units_(units_of(system)) {}

  Json all() const {
    Json steps = Json::array(), accelerations = Json::array(), findings = Json::array();
    for (const Step& s : day_.steps) steps.push_back(step(s));
    for (const ReducedAcceleration& a : day_.accelerations) accelerations.push_back(acceleration(a));
    for (const Finding& f : day_.findings) findings.push_back(finding(f));
    return {{"made_by", "hardchine " + std::to_string(version_major) + "." + std::to_string(version_minor) + "." +
                            std::to_string(version_patch)},
            {"title", trial_.title},
            {"remarks", remarks()},
            {"conditions", conditions()},
            {"load", load()},
            {"fuel", fuel()},
            {"steps", steps},
            {"cruise", cruise()},
            {"accelerations", accelerations},
            {"prediction", prediction()},
            {"findings", findings}};
  }

 private:
  Json remarks() const {
    Json out = Json::object();
    for (const auto& [label, words] : trial_.remarks) out[label] = words;
    return out;
  }

  Json conditions() const {
    const ReadConditions& c = trial_.conditions;
    const Figure<Density<>> water{trial_.water.density, {}, {}};
    return {{"depth", quantity(c.depth, units_.length)},
            {"wind", quantity(c.wind, units_.speed)},
            {"wave_height", quantity(c.wave_height, units_.length)},
            {"water", trial_.water_words},
            {"water_density", quantity(water, units_.density)},
            {"air_temperature", quantity(c.air_temperature, Named<Temperature<>>{kelvin, "K"})},
            {"air_pressure", quantity(c.air_pressure, units_.pressure)},
            {"air_density", quantity(day_.air_density, units_.density)}};
  }

  Json load() const {
    Json items = Json::array();
    for (const LoadLine& line : day_.load.lines)
      items.push_back({{"name", line.name},
                       {"basis", line.basis},
                       {"capacity", quantity(line.capacity, units_.volume)},
                       {"fill", quantity(line.fill, in_percent)},
                       {"content", quantity(line.content, units_.volume)},
                       {"density", quantity(line.density, units_.contents_density)},
                       {"mass", quantity(line.mass, units_.mass)},
                       {"x", quantity(line.x, units_.length)},
                       {"y", quantity(line.y, units_.length)},
                       {"z", quantity(line.z, units_.length)}});
    const Load& l = day_.load;
    return {{"items", items},
            {"displacement", quantity(l.displacement, units_.mass)},
            {"lcg", quantity(l.lcg, units_.length)},
            {"tcg", quantity(l.tcg, units_.length)},
            {"vcg", quantity(l.vcg, units_.length)},
            {"displaced_volume", quantity(l.displaced_volume, units_.displaced)},
            {"beam_load_coefficient", quantity(l.beam_load_coefficient)},
            {"declared_displacement",
             trial_.declared ? quantity(trial_.declared->displacement, units_.mass) : Json(nullptr)},
            {"declared_over_roll_up_less_one", quantity(day_.declared_difference, in_percent)}};
  }

  Json fuel() const {
    return {{"capacity", quantity(day_.fuel_capacity, units_.volume)},
            {"usable", quantity(trial_.usable_fuel, units_.volume)},
            {"reserve", words(*trial_.reserve, units_.volume.unit, units_.volume.symbol)},
            {"held_back", quantity(day_.held_back, units_.volume)},
            {"co2_basis", trial_.co2_basis == Co2Basis::not_chosen ? Json(nullptr) : Json(words(trial_.co2_basis))},
            {"co2_cautions", day_.co2_cautions}};
  }

  Json runs(const Step& step) const {
    Json out = Json::array();
    for (const ReadRun& run : step.runs)
      out.push_back({{"direction", run.back ? "back" : "out"},
                     {"ground_speed", quantity(run.ground_speed, units_.speed)},
                     {"time", quantity(Figure<Duration<>>{run.time, {}, {}}, in_seconds)}});
    return out;
  }

  Json step(const Step& s) const {
    return {{"engine_speed", quantity(s.engine_speed, in_rpm)},
            {"setting", s.setting.empty() ? Json(nullptr) : Json(s.setting)},
            {"runs", runs(s)},
            {"out", quantity(s.out, units_.speed)},
            {"back", quantity(s.back, units_.speed)},
            {"averaging", s.averaging},
            {"speed", quantity(s.speed, units_.speed)},
            {"apparent_current", quantity(s.apparent_current, units_.speed)},
            {"volume_froude_number", quantity(s.volume_froude_number)},
            {"beam_froude_number", quantity(s.beam_froude_number)},
            {"depth_froude_number", quantity(s.depth_froude_number)},
            {"planing", s.planing},
            {"planing_observed", s.planing_observed},
            {"near_hump", s.near_hump},
            {"fuel_flow", quantity(s.fuel_flow, units_.flow)},
            {"distance_per_volume", quantity(s.distance_per_volume, nautical_economy)},
            {"statute_distance_per_volume", quantity(s.distance_per_volume, statute_economy)},
            {"volume_per_distance", quantity(s.volume_per_distance, litres_a_mile)},
            {"range", quantity(s.range, units_.distance)},
            {"endurance", quantity(s.endurance, in_hours)},
            {"co2_per_time", quantity(s.co2_per_time, units_.co2_flow)},
            {"co2_per_distance", quantity(s.co2_per_distance, units_.co2_distance)},
            {"theoretical_speed", quantity(s.theoretical_speed, units_.speed)},
            {"apparent_slip", quantity(s.apparent_slip, in_percent)},
            {"measured_trim", quantity(s.trim, in_degrees)},
            {"predicted", predicted(s)},
            {"porpoising", porpoising(s)},
            {"power", power(s)}};
  }

  Json predicted(const Step& s) const {
    if (!s.predicted) return nullptr;
    const Predicted& p = *s.predicted;
    if (!p.instead.empty()) return {{"no_figures", p.instead}};
    return {{"trim", quantity(p.trim, in_degrees)},
            {"wetted_keel", quantity(p.wetted_keel, units_.length)},
            {"wetted_chine", quantity(p.wetted_chine, units_.length)},
            {"bare_drag", quantity(p.bare_drag, units_.force)},
            {"total_drag", quantity(p.total_drag, units_.force)},
            {"effective_power", quantity(p.effective_power, units_.power)},
            {"validity", p.cautions}};
  }

  static Json porpoising(const Step& s) {
    if (!s.porpoising) return nullptr;
    const Porpoising& p = *s.porpoising;
    return {{"outcome", words(p.outcome)},
            {"bound", words(p.bound)},
            {"on_measured_trim", p.on_measured_trim},
            {"limit", quantity(p.limit, in_degrees)},
            {"margin", quantity(p.margin, in_degrees)}};
  }

  Json power(const Step& s) const {
    if (!s.propulsive) return nullptr;
    const Propulsive& p = *s.propulsive;
    return {{"brake_power", quantity(p.brake_power, units_.power)},
            {"propulsive_coefficient", quantity(p.coefficient)},
            {"source", p.words},
            {"cautions", p.cautions}};
  }

  Json cruise() const {
    const auto index = [](const std::optional<std::size_t>& i) { return i ? Json(*i + 1) : Json(nullptr); };
    return {{"best_step", index(day_.cruise.best)},
            {"fastest_within_step", index(day_.cruise.fastest_within)},
            {"margin", quantity(Figure<double>{day_.cruise.margin, {}, {}}, in_percent)},
            {"top_speed_step", index(day_.cruise.top_speed)},
            {"hump_step", index(day_.hump)},
            {"steps_are_counted_from", 1}};
  }

  Json acceleration(const ReducedAcceleration& a) const {
    return {{"from", quantity(a.from, units_.speed)},
            {"to", quantity(a.to, units_.speed)},
            {"start_rule", a.start ? Json(words(*a.start)) : Json(nullptr)},
            {"outcome", words(a.outcome)},
            {"time", quantity(a.time, in_seconds)},
            {"out_mean", quantity(a.out_mean, in_seconds)},
            {"back_mean", quantity(a.back_mean, in_seconds)},
            {"out_runs", a.out},
            {"back_runs", a.back}};
  }

  Json prediction() const {
    if (!day_.no_prediction.empty()) return {{"no_prediction", day_.no_prediction}};
    return {{"method", day_.prediction_method}};
  }

  static Json finding(const Finding& f) {
    const ShownUnit unit = shown_unit(f.rule().measure);
    const auto figure = [&](double x) {
      return std::isfinite(x) ? Json{{"value", x / unit.factor}, {"unit", unit.symbol.empty() ? "1" : unit.symbol}}
                              : Json(nullptr);
    };
    Json causes = Json::array();
    for (const std::string_view cause : f.causes()) causes.push_back(cause);
    return {{"number", f.number()},
            {"severity", words(f.severity)},
            {"step", f.step ? Json(*f.step + 1) : Json(nullptr)},
            {"subject", f.subject.empty() ? Json(nullptr) : Json(f.subject)},
            {"figure", figure(f.figure)},
            {"low", figure(f.low)},
            {"high", figure(f.high)},
            {"accepted_outside_low_and_high", f.between_is_bad},
            {"expanded_uncertainty", figure(f.expanded_uncertainty)},
            {"within_uncertainty", f.within_uncertainty},
            {"sentence", f.sentence()},
            {"likely_causes", causes}};
  }

  const TrialFile& trial_;
  const ReducedDay& day_;
  Units units_;
};

}  // namespace

std::string json(const TrialFile& trial, const ReducedDay& day, UnitSystem system) {
  return Writer(trial, day, system).all().dump(2) + "\n";
}

}  // namespace trial_page
