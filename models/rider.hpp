// Rider: mass and place, and the throttle plan as piecewise-linear lever segments between known times.
#pragma once

#include <array>
#include <vector>

#include "models/parameter.hpp"
#include "models/problem.hpp"

namespace bowrise {

struct Body {
  double mass_kg, tow_load_N;
};
// clang-format off
inline constexpr std::array body_parameters{
    Parameter<Body>{"mass", &Body::mass_kg, "kg", required, {0.5, 200000}, {180, 500}, {},
                     "craft ready to run, without fuel and rider", "a scale; makers print dry mass without fluids"},
    Parameter<Body>{"tow_load", &Body::tow_load_N, "N", 0.0, {0, 100000}, {0, 800}, {},
                     "rearward pull of a towed load, constant", "spring balance"}};
// clang-format on
static_assert(sizeof(Body) == part_size(body_parameters.size()), "a field of Body has no row");

struct Rider {
  double mass_kg, position_m;
  TableRows position_schedule;  ///< [m/s, m]
};
// clang-format off
inline constexpr std::array rider_parameters{
    Parameter<Rider>{"mass", &Rider::mass_kg, "kg", 85.0, {0, 2000}, {50, 130}, {}, "rider with gear",
                     "a scale; SAE J2882 tests with 92 +-8 kg"},
    Parameter<Rider>{"position", &Rider::position_m, "m", 0.95, {-1, 30}, {0.6, 1.6}, {},
                     "rider's weight forward of the trailing edge", "tape measure"}};
// clang-format on
inline constexpr std::array<std::string_view, 2> position_column_names{"speed", "position"};
inline constexpr std::array<std::string_view, 2> position_column_units{"m/s", "m"};
inline constexpr std::array<Range, 2> position_column_ranges{{{0, 100}, {-1, 30}}};
inline constexpr std::array rider_tables{TableParameter<Rider>{
    "position_schedule", &Rider::position_schedule, position_column_names, position_column_units,
    position_column_ranges, 2, 20,
    "rider's position against craft speed, held beyond the ends: forward at the launch, aft for speed",
    "definition"}};
static_assert(sizeof(Rider) == part_size(rider_parameters.size(), 0, 1), "a field of Rider has no row");

struct Fuel {
  double mass_kg;
};
// clang-format off
inline constexpr std::array fuel_parameters{
    Parameter<Fuel>{"mass", &Fuel::mass_kg, "kg", 40.0, {0, 5000}, {0, 60}, {}, "fuel on board; 0.745 kg a litre",
                    "gauge"}};
// clang-format on

enum class Plan : int { pinned, ramp, staged, table, hold, rider, ideal };

/// A plan that decides the lever while the craft runs, by what it sees; the others are known beforehand.
[[nodiscard]] constexpr bool is_feedback(Plan plan) noexcept { return plan >= Plan::hold; }

struct Throttle {
  double hand_rate_1_s, ramp_time_s, stage_level, stage_time_s;
  double hold_share, reaction_time_s, ease_gain, head_loss_aim, decision_time_s;
  double timing_error_s, lever_error;
  Plan plan;
  TableRows table;  ///< [s, lever]
};
// clang-format off
inline constexpr std::array throttle_parameters{
    Parameter<Throttle>{"hand_rate", &Throttle::hand_rate_1_s, "1/s", 10.0, {0.1, 1000}, {2, 20}, {Shape::setting, 0.3, 3.3333},
                        "fastest lever travel of a hand, full travels a second", "engineering judgement"},
    Parameter<Throttle>{"ramp_time", &Throttle::ramp_time_s, "s", 1.0, {0.01, 60}, {0.2, 4}, {},
                        "plan ramp: time from shut to full", "definition"},
    Parameter<Throttle>{"stage_level", &Throttle::stage_level, "1", 0.5, {0, 1}, {0.2, 0.9}, {},
                        "plan staged: lever held first", "definition"},
    Parameter<Throttle>{"stage_time", &Throttle::stage_time_s, "s", 1.0, {0, 60}, {0.2, 4}, {},
                        "plan staged: time at which the lever goes to full", "definition"},
    Parameter<Throttle>{"hold_share", &Throttle::hold_share, "1", 0.85, {0.3, 1}, {0.6, 1}, {},
                        "plan hold: share of the rev limiter at which the revs are held until the pump bites",
                        "engineering judgement: riders speak of 80 to 90 %"},
    Parameter<Throttle>{"reaction_time", &Throttle::reaction_time_s, "s", 0.25, {0, 2}, {0.15, 0.4}, {},
                        "plan rider: from seeing to moving the hand", "engineering judgement"},
    Parameter<Throttle>{"ease_gain", &Throttle::ease_gain, "1", 3.0, {0, 100}, {1, 6}, {},
                        "plan rider: share of the lever taken back per share of rpm above the normal at that speed",
                        "engineering judgement"},
    Parameter<Throttle>{"head_loss_aim", &Throttle::head_loss_aim, "1", 0.10, {0.005, 0.8}, {0.03, 0.3}, {},
                        "plan ideal: share of the pump head given to cavitation on purpose", "engineering judgement"},
    Parameter<Throttle>{"decision_time", &Throttle::decision_time_s, "s", 0.02, {0.005, 1}, {0.01, 0.1}, {},
                        "plans hold, rider and ideal: from one decision about the lever to the next",
                        "engineering judgement"},
    Parameter<Throttle>{"timing_error", &Throttle::timing_error_s, "s", 0.0, {-1, 1}, {-0.2, 0.2}, {},
                        "rider's error: all after the first move comes so much late; of a plan that sees, its delay",
                        "engineering judgement"},
    Parameter<Throttle>{"lever_error", &Throttle::lever_error, "1", 0.0, {-0.9, 2}, {-0.2, 0.2}, {},
                        "rider's error: the lever is held so much further open; full is a stop and not missed",
                        "engineering judgement"}};
// clang-format on
inline constexpr std::array<std::string_view, 7> plan_words{"pinned", "ramp",  "staged", "table",
                                                            "hold",   "rider", "ideal"};
inline constexpr std::array throttle_choices{choice<&Throttle::plan, Throttle>(
    "plan", plan_words, 0, "how the lever is opened from t = 0", "definition")};
inline constexpr std::array<std::string_view, 2> throttle_column_names{"time", "lever"};
inline constexpr std::array<std::string_view, 2> throttle_column_units{"s", "1"};
inline constexpr std::array<Range, 2> throttle_column_ranges{{{0, 3600}, {0, 1}}};
inline constexpr std::array throttle_tables{TableParameter<Throttle>{
    "table", &Throttle::table, throttle_column_names, throttle_column_units, throttle_column_ranges, 1, 200,
    "plan table: lever against time, straight between rows, held after the last", "definition"}};
static_assert(sizeof(Throttle) == part_size(throttle_parameters.size(), 1, 1),
              "a field of Throttle has no row");

/// One smooth piece of a throttle plan: lever = level + rate (t - start), from `start` to the next segment's
/// start.
struct LeverSegment {
  double start_s, level, rate_1_s;
  [[nodiscard]] double lever(double time_s) const noexcept { return level + rate_1_s * (time_s - start_s); }
};

/// The plan as segments from t = 0; starts rise strictly; every corner of the lever is the start of a
/// segment. The lever starts shut and never moves faster than the hand. Where it would fall below `floor`
/// (the idle air path) it is held there, the crossing being a corner too. Of a feedback plan: shut, all that
/// is known beforehand.
[[nodiscard]] std::vector<LeverSegment> lever_segments(const Throttle& throttle, double floor);

/// The next piece of a feedback plan: from where the lever is towards where the rider wants it by the next
/// decision, as far as the hand and the floor allow.
[[nodiscard]] LeverSegment decided_segment(const Throttle& throttle, double time_s, double lever,
                                           double wanted_lever, double floor) noexcept;

[[nodiscard]] Problems check(const Throttle& throttle);

}  // namespace bowrise
