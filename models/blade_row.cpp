#include "models/blade_row.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "models/constants.hpp"
#include "models/curve.hpp"
#include "models/smooth.hpp"
#include "models/square.hpp"

namespace bowrise {
namespace {

constexpr double boundary_layer_blockage = 0.03;
constexpr double blade_blockage_in = 0.06;
constexpr double blade_blockage_out = 0.04;
constexpr double usual_solidity = 1.15;  // where nothing is said
constexpr double axial_radius_ratio = 1.1;
constexpr double mixed_flow_radius_ratio = 1.2;

/// Length of a vector; speeds here are far from overflow, so the plain root does.
double length(double x, double y) noexcept { return std::sqrt(x * x + y * y); }

double annulus_area_m2(double tip_radius_m, double hub_radius_m) noexcept {
  return pi * (square(tip_radius_m) - square(hub_radius_m));
}

/// Radius that has the share (index + 1/2)/count of the annulus inside it.
double station_radius_m(double hub_radius_m, double tip_radius_m, std::size_t index) noexcept {
  const double share = (static_cast<double>(index) + 0.5) / static_cast<double>(station_count);
  return std::sqrt(square(hub_radius_m) + share * (square(tip_radius_m) - square(hub_radius_m)));
}

double root_mean_square_radius_m(double hub_radius_m, double tip_radius_m) noexcept {
  return std::sqrt(0.5 * (square(hub_radius_m) + square(tip_radius_m)));
}

/// Velocity triangles of one station.
struct Triangles {
  double meridional_in, meridional_out, relative_swirl_in, relative_swirl_out, swirl_out;
  double relative_in, relative_out, sin_out;
  double incidence;
};

Triangles triangles(const BladeStation& station, double mixed_flow_share, double meridional_in,
                    double meridional_out, double speed_rad_s, double swirl_in) noexcept {
  const double blade_speed_out = speed_rad_s * station.radius_out_m;
  const double relative_swirl_in = speed_rad_s * station.radius_in_m - swirl_in;
  const double incidence = station.angle_in_rad - relative_flow_angle_rad(meridional_in, relative_swirl_in);
  const double guided = station.angle_out_rad - station.deviation_rad - station.leak * incidence;
  // A blade of low solidity and high camber lies outside Carter's rule: the flow still follows it a little.
  const double flow_angle_out = std::max(guided, 0.2 * station.angle_out_rad);
  const double axial_swirl = blade_speed_out - meridional_out / std::tan(flow_angle_out);
  const double mixed_swirl = station.slip_factor * blade_speed_out - meridional_out * station.cotangent_out;
  const double swirl_out = axial_swirl + mixed_flow_share * (mixed_swirl - axial_swirl);
  const double relative_swirl_out = blade_speed_out - swirl_out;
  const double relative_out = length(meridional_out, relative_swirl_out);
  return {.meridional_in = meridional_in,
          .meridional_out = meridional_out,
          .relative_swirl_in = relative_swirl_in,
          .relative_swirl_out = relative_swirl_out,
          .swirl_out = swirl_out,
          .relative_in = length(meridional_in, relative_swirl_in),
          .relative_out = relative_out,
          .sin_out = meridional_out / relative_out,
          .incidence = incidence};
}

double profile_loss(const BladeStation& station, const Triangles& flow, double diffusion,
                    const RowFriction& friction) noexcept {
  const double reynolds = flow.relative_out * station.chord_m / friction.kinematic_viscosity_m2_s;
  const double thickness =
      wake_momentum_thickness(diffusion) * std::pow(5e5 / reynolds, 0.2) * friction.roughness_factor;
  return 2.0 * thickness * station.solidity / flow.sin_out * 0.5 * square(flow.relative_out);
}

/// Friction on hub and ring along the passage, and Howell's secondary flow; both on the vector-mean relative
/// speed.
struct PassageLosses {
  double end_walls, secondary;
};

PassageLosses passage_losses(const BladeStation& station, const Triangles& flow, double span_m,
                             const RowFriction& friction) noexcept {
  const double meridional = 0.5 * (flow.meridional_in + flow.meridional_out);
  const double relative = length(meridional, 0.5 * (flow.relative_swirl_in + flow.relative_swirl_out));
  const double head = 0.5 * square(relative);
  const double reynolds = relative * station.chord_m / friction.kinematic_viscosity_m2_s;
  const double friction_coefficient = 0.0026 * std::pow(1e7 / reynolds, 0.15) * friction.roughness_factor;
  const double turning = flow.relative_swirl_in - flow.relative_swirl_out;
  const double lift = 2.0 * turning / (station.solidity * relative);
  return {.end_walls = friction_coefficient * 2.0 * station.chord_m / span_m * head,
          .secondary = 0.018 * square(lift) * station.solidity * relative / meridional * head};
}

/// Head of the velocity component across the blade's leading edge, most of which is lost.
double incidence_loss(const BladeStation& station, const Triangles& flow) noexcept {
  const double shock = (flow.meridional_in * station.cotangent_in - flow.relative_swirl_in) * station.sine_in;
  return 0.7 * 0.5 * square(shock);
}

/// Columns of Rotor::blade_angles.
enum Column : std::size_t { radius_column, leading_column, trailing_column };

/// Drag of blunt noses, spread over the passages between them.
double edge_loss(const BladeRow& row, const BladeStation& station, const Triangles& flow,
                 double drag) noexcept {
  const double passage_m = 2.0 * pi * station.radius_in_m / row.blades * station.sine_in;
  return drag * row.blunt_edge_m / passage_m * 0.5 * square(flow.relative_in);
}

/// Pitch of the blade along one edge: the same from hub to tip, or by the rows of a table.
class EdgePitch {
 public:
  /// @param angle_rad  at the pitch radius; without a table it makes the pitch
  EdgePitch(const Rotor& rotor, double angle_rad, Column column)
      : uniform_m_(helix_pitch_m(rotor.pitch_radius_m, angle_rad)) {
    if (!rotor.blade_angles.empty()) over_span_ = pitch_over_span(rotor.blade_angles, column);
  }

  [[nodiscard]] double angle_rad(double radius_m) const noexcept {
    return helix_angle_rad(over_span_ ? (*over_span_)(radius_m) : uniform_m_, radius_m);
  }

  [[nodiscard]] static Curve pitch_over_span(const TableRows& rows, Column column) {
    std::vector<double> radius_m, pitch_m;
    for (const std::vector<double>& row : rows) {
      radius_m.push_back(row[radius_column]);
      pitch_m.push_back(helix_pitch_m(row[radius_column], row[column]));
    }
    return Curve(radius_m, pitch_m);
  }

 private:
  double uniform_m_;
  std::optional<Curve> over_span_;
};

struct BladeEdges {
  EdgePitch leading, trailing;
};

double table_angle_rad(const Rotor& rotor, Column column) {
  const double pitch_m = EdgePitch::pitch_over_span(rotor.blade_angles, column)(rotor.pitch_radius_m);
  return helix_angle_rad(pitch_m, rotor.pitch_radius_m);
}

BladeStation layout(const Rotor& rotor, const BladeEdges& edges, double tip_radius_m, double axial_length_m,
                    std::size_t index) noexcept {
  const double radius_in = station_radius_m(0.5 * rotor.hub_in_m, tip_radius_m, index);
  const double radius_out = station_radius_m(0.5 * rotor.hub_out_m, tip_radius_m, index);
  const double angle_in = edges.leading.angle_rad(radius_in);
  const double angle_out = edges.trailing.angle_rad(radius_out);
  const double chord = axial_length_m / std::sin(0.5 * (angle_in + angle_out));
  const double solidity = rotor.blades * chord / (pi * (radius_in + radius_out));
  return {.radius_in_m = radius_in,
          .radius_out_m = radius_out,
          .angle_in_rad = angle_in,
          .angle_out_rad = angle_out,
          .sine_in = std::sin(angle_in),
          .cotangent_in = 1.0 / std::tan(angle_in),
          .cotangent_out = 1.0 / std::tan(angle_out),
          .chord_m = chord,
          .solidity = solidity,
          .deviation_rad = carter_deviation_rad(angle_out - angle_in, angle_out, solidity),
          .leak = incidence_leak(solidity, angle_out),
          .slip_factor = wiesner_slip_factor(angle_out, rotor.blades)};
}

}  // namespace

Rotor resolved(const Rotor& rotor, double bore_m) {
  Rotor whole = rotor;
  const auto fill = [](double& field, double value) {
    if (std::isnan(field)) field = value;
  };
  fill(whole.pitch_radius_m, 0.5 * bore_m);
  fill(whole.hub_in_m, 0.40 * bore_m);
  fill(whole.hub_out_m, 0.52 * bore_m);
  fill(whole.solidity,
       std::isnan(whole.tip_chord_m) ? usual_solidity : whole.blades * whole.tip_chord_m / (pi * bore_m));
  if (!whole.blade_angles.empty()) {
    whole.pitch_leading_rad = table_angle_rad(whole, leading_column);
    whole.pitch_trailing_rad = table_angle_rad(whole, trailing_column);
  }
  fill(whole.pitch_leading_rad, helix_angle_rad(whole.pitch_leading_length_m, whole.pitch_radius_m));
  fill(whole.pitch_trailing_rad, helix_angle_rad(whole.pitch_trailing_length_m, whole.pitch_radius_m));
  return whole;
}

double helix_angle_rad(double pitch_m, double radius_m) noexcept {
  return std::atan(pitch_m / (2.0 * pi * radius_m));
}

double helix_pitch_m(double radius_m, double angle_rad) noexcept {
  return 2.0 * pi * radius_m * std::tan(angle_rad);
}

double euler_work_J_kg(double blade_speed_out_m_s, double swirl_out_m_s, double blade_speed_in_m_s,
                       double swirl_in_m_s) noexcept {
  return blade_speed_out_m_s * swirl_out_m_s - blade_speed_in_m_s * swirl_in_m_s;
}

double relative_flow_angle_rad(double meridional_m_s, double relative_swirl_m_s) noexcept {
  return std::atan2(meridional_m_s, relative_swirl_m_s);
}

double carter_deviation_rad(double camber_rad, double outlet_angle_rad, double solidity) noexcept {
  const double coefficient = 0.23 + 0.1 * (90.0 - outlet_angle_rad / radians_per_degree) / 50.0;
  return coefficient * camber_rad / std::sqrt(solidity);
}

double incidence_leak(double solidity, double outlet_angle_rad) noexcept {
  // Helical blades with staggered edges form a closed passage of this length over their spacing.
  const double overlap = std::max(solidity - std::cos(outlet_angle_rad), 0.0);
  return 0.9 * std::exp(-pi * overlap / std::sin(outlet_angle_rad));
}

double wiesner_slip_factor(double outlet_angle_rad, double blades) noexcept {
  return 1.0 - std::sqrt(std::sin(outlet_angle_rad)) / std::pow(blades, 0.7);
}

double diffusion_factor(double relative_speed_in_m_s, double relative_speed_out_m_s, double turning_m_s,
                        double solidity) noexcept {
  return 1.0 - relative_speed_out_m_s / relative_speed_in_m_s +
         std::abs(turning_m_s) / (2.0 * solidity * relative_speed_in_m_s);
}

double wake_momentum_thickness(double diffusion_factor) noexcept {
  // Deq below 1 belongs to accelerating flow, whose wake is no thinner than that of a flat plate.
  const double equivalent_diffusion = smooth_max(1.05 + 1.3 * diffusion_factor, 1.0, 0.05);
  return 0.0045 / smooth_max(1.0 - 0.95 * std::log(equivalent_diffusion), 0.25, 0.02);
}

BladeRow blade_row(const Rotor& rotor, double bore_m) {
  const double tip = 0.5 * bore_m, hub_in = 0.5 * rotor.hub_in_m, hub_out = 0.5 * rotor.hub_out_m;
  BladeRow row{};
  row.blades = rotor.blades;
  row.tip_radius_m = tip;
  row.blade_height_m = tip - hub_in;
  row.annulus_in_m2 = annulus_area_m2(tip, hub_in) * (1.0 - boundary_layer_blockage);
  row.open_area_in_m2 = row.annulus_in_m2 * (1.0 - blade_blockage_in);
  row.open_area_out_m2 =
      annulus_area_m2(tip, hub_out) * (1.0 - boundary_layer_blockage) * (1.0 - blade_blockage_out);
  const BladeEdges edges{{rotor, rotor.pitch_leading_rad, leading_column},
                         {rotor, rotor.pitch_trailing_rad, trailing_column}};
  row.tip_angle_in_rad = edges.leading.angle_rad(tip);
  row.tip_angle_out_rad = edges.trailing.angle_rad(tip);
  row.mixed_flow_share =
      smoothstep(axial_radius_ratio, mixed_flow_radius_ratio,
                 root_mean_square_radius_m(hub_out, tip) / root_mean_square_radius_m(hub_in, tip));
  const double tip_chord = rotor.solidity * 2.0 * pi * tip / rotor.blades;
  const double axial_length = tip_chord * std::sin(0.5 * (row.tip_angle_in_rad + row.tip_angle_out_rad));
  row.blunt_edge_m = std::max(rotor.edge_thickness_m - new_edge_thickness_m, 0.0);
  for (std::size_t i = 0; i < station_count; ++i)
    row.stations[i] = layout(rotor, edges, tip, axial_length, i);
  return row;
}

RowFlow row_flow(const BladeRow& row, const Stator& stator, const RowFriction& friction, double flow_m3_s,
                 double speed_rad_s, const Stations& swirl_in_m_s) noexcept {
  const double meridional_in = flow_m3_s / row.open_area_in_m2,
               meridional_out = flow_m3_s / row.open_area_out_m2;
  RowFlow result{};
  RowLosses& losses = result.losses_J_kg;
  for (std::size_t i = 0; i < station_count; ++i) {
    const BladeStation& station = row.stations[i];
    const Triangles flow =
        triangles(station, row.mixed_flow_share, meridional_in, meridional_out, speed_rad_s, swirl_in_m_s[i]);
    const double diffusion =
        diffusion_factor(flow.relative_in, flow.relative_out,
                         flow.relative_swirl_in - flow.relative_swirl_out, station.solidity);
    const PassageLosses passage = passage_losses(station, flow, row.blade_height_m, friction);
    result.euler_work_J_kg += euler_work_J_kg(speed_rad_s * station.radius_out_m, flow.swirl_out,
                                              speed_rad_s * station.radius_in_m, swirl_in_m_s[i]);
    losses.profile += profile_loss(station, flow, diffusion, friction);
    losses.end_walls += passage.end_walls;
    losses.secondary += passage.secondary;
    losses.incidence += incidence_loss(station, flow);
    losses.edge += edge_loss(row, station, flow, friction.edge_drag);
    losses.stator += stator.loss * 0.5 * (square(meridional_out) + square(flow.swirl_out));
    result.swirl_out_m_s[i] = flow.swirl_out;
    result.incidence_tip_rad = flow.incidence;
    result.diffusion_factor_tip = diffusion;
  }
  constexpr double share = 1.0 / static_cast<double>(station_count);
  result.euler_work_J_kg *= share;
  for (double* loss : {&losses.profile, &losses.end_walls, &losses.secondary, &losses.incidence, &losses.edge,
                       &losses.stator})
    *loss *= share;
  losses.residual_swirl = 0.5 * square(meridional_out * std::tan(stator.residual_swirl_rad));
  return result;
}

Stations swirl_ahead_of(const BladeRow& next, const BladeRow& previous,
                        const Stations& swirl_out_m_s) noexcept {
  Stations swirl{};
  for (std::size_t i = 0; i < station_count; ++i)
    swirl[i] = swirl_out_m_s[i] * previous.stations[i].radius_out_m / next.stations[i].radius_in_m;
  return swirl;
}

}  // namespace bowrise
