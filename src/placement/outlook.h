#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "placement/placement.h"
#include "spread/plan.h"
#include "spread/sobol.h"

/// The benches that one description may mean, each solved at the same few stand-offs; between them
/// everything is interpolated (models/spread.md).
namespace windgap::placement {

/// What is kept of a member at a stand-off, as logarithms of SI values.
enum class Quantity {
  supply,            ///< delivered over starting airflow
  airflow,           ///< delivered [kg/s]
  speed,             ///< of the rotor [rad/s]
  mouth_pressure,    ///< gauge, total, of the air before the mouth [Pa]
  inducer_pressure,  ///< the same behind guard and entry [Pa]
  voltage            ///< of the pack under load [V]
};
inline constexpr std::size_t quantity_count = 6;

/// One member's or the nominal bench's logarithms.
using Seen = std::array<double, quantity_count>;
[[nodiscard]] Seen seen(const rig::Rig& rig, const Row& row);
/// What stands for a supply that cannot be or a rotor that does not turn.
inline constexpr double hopeless = -3.0;

/// Weights of the four values around a stand-off.
struct Between {
  std::array<std::size_t, 4> node{};
  std::array<double, 4> weight{};
};

/// A row of members for each node.
using Rows = std::vector<std::vector<double>>;

struct Outlook {
  std::vector<double> nodes;  ///< stand-offs solved, rising [m]
  spread::Points normals;     ///< of the members; start axes are at 0
  std::vector<rig::Rig> rigs;
  std::vector<bool> sound;  ///< false: the draw makes no bench
  std::array<Rows, quantity_count> values;
  std::array<Rows, constraint_count> slacks;  ///< of all but airflow and travel
  /// Change of the nominal bench by one deviation of a start axis: [quantity][node][axis].
  std::array<Rows, quantity_count> start_effects;
  std::array<std::vector<double>, quantity_count> nominal;  ///< [quantity][node]
  std::size_t lost = 0;                                     ///< members that are no bench

  [[nodiscard]] std::size_t members() const { return rigs.size(); }
  /// Where a stand-off lies, held within the nodes.
  [[nodiscard]] Between between(double stand_off) const;
  [[nodiscard]] double at(Quantity quantity, const Between& place, std::size_t member) const;
  /// All members at a stand-off.
  void at(Quantity quantity, double stand_off, std::vector<double>& out) const;
  /// Standard deviation from attempt to attempt on one bench, without `start_scatter`.
  [[nodiscard]] double scatter(Quantity quantity, double stand_off) const;
};

/// What to solve and how.
struct Survey {
  const spread::Plan& plan;
  const spread::Subject& subject;
  const Requirement& requirement;
  std::size_t members = 4096;
  std::uint64_t seed = 1;
  unsigned threads = 0;  ///< 0: all; the same numbers whatever it says
};

/// Members drawn by Sobol points and solved at rising stand-offs [m] within the model's range.
[[nodiscard]] Outlook look_out(const Survey& survey, std::span<const double> stand_offs);

/// The same for chosen normals (bench axes; start axes at 0).
[[nodiscard]] Outlook look_out(const Survey& survey,
                               std::span<const double> stand_offs,
                               spread::Points normals);

/// Solves all members at one more stand-off; nothing if a node is within a tenth of a millimetre.
void add_node(Outlook& outlook, const Survey& survey, double stand_off);

/// Stand-offs that follow the airflow well over the bracket's travel, closer together near.
[[nodiscard]] std::vector<double> usual_nodes(const Requirement& requirement);

}  // namespace windgap::placement
