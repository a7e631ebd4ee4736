// The sections of the page, as a class: page.cpp prints what was measured, page_judged.cpp what is judged from it.
#pragma once

#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "layout.hpp"
#include "page.hpp"
#include "page_units.hpp"

namespace trial_page {

/// Predictions show no more: the method is not good for it.
inline constexpr Print of_method{.most_digits = 3}, of_trim{.most_digits = 3, .finest_place = -1};
/// What stands on the stamped pitch of a propeller shows no more.
inline constexpr Print of_pitch{.most_digits = 3};

/// A column of figures, one a step.
struct StepColumn {
  std::string heading, unit;
  std::function<std::string(const Step&)> cell;
};

/// The page of one trial in one system of units.
class Page {
 public:
  Page(const TrialFile& trial, const ReducedDay& day, UnitSystem system)
      : trial_(trial), day_(day), system_(system), units_(units_of(system)) {}

  std::string text() const;

 private:
  // ------------------------------------------------------------------------------------------------------- columns

  template <class Q>
  StepColumn column(std::string heading, Figure<Q> Step::*member, const Named<Q>& unit, const Print& print = {}) const {
    Column<Q> figures(unit.unit, print);
    for (const Step& step : day_.steps) figures.add(step.*member);
    return {std::move(heading), std::string(unit.symbol),
            [figures, member](const Step& step) { return figures(step.*member); }};
  }
  template <class Q>
  StepColumn column(std::string heading, Figure<Q> Predicted::*member, const Named<Q>& unit,
                    const Print& print = {}) const {
    Column<Q> figures(unit.unit, print);
    for (const Step& step : day_.steps)
      if (step.predicted) figures.add((*step.predicted).*member);
    return {std::move(heading), std::string(unit.symbol),
            [figures, member](const Step& step) { return figures((*step.predicted).*member); }};
  }

  StepColumn engine_column() const { return column("engine", &Step::engine_speed, in_rpm); }
  StepColumn speed_column() const { return column("speed", &Step::speed, units_.speed); }

  static Table table_of(const std::vector<StepColumn>& columns) {
    std::vector<std::array<std::string, 2>> headings;
    for (const StepColumn& c : columns) headings.push_back({c.heading, c.unit});
    return Table(headings, 0);
  }
  static std::vector<std::string> cells(const std::vector<StepColumn>& columns, const Step& step) {
    std::vector<std::string> texts;
    for (const StepColumn& c : columns) texts.push_back(c.cell(step));
    return texts;
  }
  /// The rows of all steps that have a speed.
  std::string table_text(const std::vector<StepColumn>& columns) const {
    Table table = table_of(columns);
    for (const Step& step : day_.steps)
      if (hardchine::is_set(step.speed.value)) table.row(cells(columns, step));
    return table.text();
  }

  static std::string engine(const Step& step) { return number(step.engine_speed, hardchine::rpm); }
  /// The engine speeds of the steps that a predicate picks: "1800, 2000 rpm"; empty if there are none.
  std::string engines(const std::function<bool(const Step&)>& picked) const {
    std::string text;
    for (const Step& step : day_.steps)
      if (picked(step)) text += (text.empty() ? "" : ", ") + engine(step);
    return text.empty() ? text : text + " rpm";
  }

  // ------------------------------------------------------------------------------------------------------ sections

  std::string title_section() const;
  std::string basis_of(const LoadLine& line) const;
  std::string load_section() const;
  std::string runs_section() const;
  std::string runs_line(const Step& step) const;
  std::string hump_note() const;
  std::string reserve_words() const;
  std::string economy_section() const;
  std::string propeller_section() const;
  std::string economy_words(const Step& step) const;
  std::string cruise_line(std::string_view what, const std::optional<std::size_t>& index) const;
  std::string cruise_section() const;
  std::string added_drag_words() const;
  std::string thrust_words() const;
  std::string prediction_inputs() const;
  std::string prediction_section() const;
  std::string cautions_section() const;
  std::string digits_section() const;
  std::string conditions_section() const;
  std::string depth_words() const;
  std::string wind_words() const;
  std::string declared_line() const;
  std::string stated_ranges() const;
  std::string co2_part() const;
  std::string acceleration_section() const;
  std::string trim_section() const;
  std::string power_section() const;
  std::string findings_section() const;

  const TrialFile& trial_;
  const ReducedDay& day_;
  UnitSystem system_;
  Units units_;
};

}  // namespace trial_page
