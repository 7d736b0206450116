#include "report/chance_plot.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "report/html_text.h"
#include "report/shown.h"

namespace windgap::report {
namespace {

using placement::Prospect;
using units::Dimension;

constexpr double width = 640.0;
constexpr double height = 300.0;
constexpr double left = 62.0;
constexpr double right = 14.0;
constexpr double top = 14.0;
constexpr double bottom = 44.0;

/// A round step that cuts a range into about five.
double round_step(double range) {
  constexpr double parts = 5.0;
  const double raw = range / parts;
  const double power = std::pow(10.0, std::floor(std::log10(raw)));
  for (const double factor : {1.0, 2.0, 5.0}) {
    if (factor * power >= raw) return factor * power;
  }
  return 10.0 * power;
}

/// SI to the picture, both axes.
class Canvas {
 public:
  // NOLINTNEXTLINE(bugprone-easily-swappable-parameters): left, right, top
  Canvas(double near, double far, double most, Dimension dimension, units::System system)
      : near_(near),
        far_(far),
        most_(most),
        across_(units::display_unit(far, Dimension::length, system)),
        up_(units::display_unit(most, dimension, system)) {}

  [[nodiscard]] double x(double s) const {
    return left + (s - near_) / (far_ - near_) * (width - left - right);
  }
  [[nodiscard]] double y(double value) const {
    return height - bottom - value / most_ * (height - top - bottom);
  }

  [[nodiscard]] std::string path(const std::vector<Prospect>& list,
                                 const std::function<double(const Prospect&)>& value) const {
    std::string text;
    for (const auto& one : list) {
      text +=
          fmt::format("{}{:.1f} {:.1f}", text.empty() ? "M" : "L", x(one.stand_off), y(value(one)));
    }
    return text;
  }

  [[nodiscard]] std::string band(const std::vector<Prospect>& list,
                                 const std::function<double(const Prospect&)>& low,
                                 const std::function<double(const Prospect&)>& high) const {
    auto back = list;
    std::reverse(back.begin(), back.end());
    auto text = path(list, high);
    for (const auto& one : back) {
      text += fmt::format("L{:.1f} {:.1f}", x(one.stand_off), y(low(one)));
    }
    return text + "Z";
  }

  [[nodiscard]] std::string axes(const std::string& name, const std::string& unit) const {
    std::string text;
    const double step_x = round_step((far_ - near_) / across_.factor);
    for (double v = step_x * std::ceil(near_ / across_.factor / step_x);
         v * across_.factor <= far_ * (1.0 + 1e-9);
         v += step_x) {
      const double at = x(v * across_.factor);
      text += fmt::format(
          "<line x1=\"{0:.1f}\" x2=\"{0:.1f}\" y1=\"{1}\" y2=\"{2}\" stroke=\"#ddd\"/>"
          "<text x=\"{0:.1f}\" y=\"{3}\" text-anchor=\"middle\">{4:g}</text>\n",
          at,
          top,
          height - bottom,
          height - bottom + 16.0,
          v);
    }
    const double step_y = round_step(most_ / up_.factor);
    for (int i = 0; i * step_y * up_.factor <= most_ * (1.0 + 1e-9); ++i) {
      const double at = y(i * step_y * up_.factor);
      text += fmt::format(
          "<line x1=\"{0}\" x2=\"{1}\" y1=\"{2:.1f}\" y2=\"{2:.1f}\" stroke=\"#ddd\"/>"
          "<text x=\"{3}\" y=\"{4:.1f}\" text-anchor=\"end\">{5:g}</text>\n",
          left,
          width - right,
          at,
          left - 6.0,
          at + 4.0,
          i * step_y);
    }
    text += fmt::format(
        "<text x=\"{}\" y=\"{}\" text-anchor=\"middle\">distance from fan to mouth ({})</text>\n",
        0.5 * (left + width - right),
        height - 8.0,
        across_.symbol);
    text += fmt::format(
        "<text transform=\"translate(14 {}) rotate(-90)\" text-anchor=\"middle\">{} ({})</text>\n",
        0.5 * (top + height - bottom),
        name,
        unit.empty() ? std::string(up_.symbol) : unit);
    return text;
  }

  /// Where the next attempt is proposed.
  [[nodiscard]] std::string next(double s) const {
    if (!std::isfinite(s) || s < near_ || s > far_) return "";
    return fmt::format(
        "<line x1=\"{0:.1f}\" x2=\"{0:.1f}\" y1=\"{1}\" y2=\"{2}\" stroke=\"#1c1c1c\" "
        "stroke-dasharray=\"2 4\"/><text x=\"{3:.1f}\" y=\"{4}\">next</text>\n",
        x(s),
        top,
        height - bottom,
        x(s) + 5.0,
        top + 26.0);
  }

  [[nodiscard]] std::string mount(double s, std::string_view word) const {
    if (!std::isfinite(s) || s < near_ || s > far_) return "";
    return fmt::format(
        "<line x1=\"{0:.1f}\" x2=\"{0:.1f}\" y1=\"{1}\" y2=\"{2}\" stroke=\"#1c1c1c\" "
        "stroke-width=\"1.5\"/><text x=\"{3:.1f}\" y=\"{4}\">{5}</text>\n",
        x(s),
        top,
        height - bottom,
        x(s) + 5.0,
        top + 12.0,
        word);
  }

 private:
  double near_;
  double far_;
  double most_;
  units::Unit across_;
  units::Unit up_;
};

std::string framed(const std::string& inside, const std::string& title) {
  return fmt::format(
      "<svg viewBox=\"0 0 {} {}\" role=\"img\" aria-label=\"{}\" font-family=\"serif\" "
      "font-size=\"12\">\n{}</svg>\n",
      width,
      height,
      escaped(title),
      inside);
}

std::string line(const std::string& path, bool dashed) {
  return fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"{}/>\n",
                     path,
                     dashed ? "#8a4b14" : "#1d4f7c",
                     dashed ? 1.5 : 2.2,
                     dashed ? " stroke-dasharray=\"7 3\"" : "");
}

std::string shaded(const std::string& path) {
  return fmt::format("<path d=\"{}\" fill=\"#c9d8e6\" fill-opacity=\"0.8\"/>\n", path);
}

/// Attempts at the ends of the scale: filled where it caught, a cross where not; cold ones below.
std::string attempt_marks(const ChanceDrawing& drawing, const Canvas& canvas) {
  std::string text;
  const double floor = canvas.y(0.0);
  for (const auto& attempt : drawing.attempts) {
    const double at = canvas.x(attempt.stand_off);
    if (at < left || at > width - right) continue;
    if (attempt.kind == trials::Kind::cold) {
      text += fmt::format(
          "<path d=\"M{0:.1f} {1:.1f}l5 8l-10 0Z\" fill=\"#fff\" stroke=\"#1c1c1c\"/>\n",
          at,
          floor - 12.0);
    } else if (attempt.outcome == trials::Outcome::caught) {
      text += fmt::format(
          "<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"5\" fill=\"#1c1c1c\"/>\n", at, canvas.y(1.0));
    } else {
      text += fmt::format(
          "<path d=\"M{0:.1f} {1:.1f}l10 10m0 -10l-10 10\" stroke=\"#1c1c1c\" "
          "stroke-width=\"2\"/>\n",
          at - 5.0,
          floor - 18.0);
    }
  }
  return text;
}

}  // namespace

std::string reliability_svg(const ChanceDrawing& drawing) {
  constexpr double errors = 2.0;
  constexpr double most = 1.05;
  const Canvas canvas(drawing.now.front().stand_off,
                      drawing.now.back().stand_off,
                      most,
                      Dimension::ratio,
                      drawing.system);
  const auto catches = [](const Prospect& one) { return one.catches; };
  auto text = canvas.axes("starts with air enough", "");
  text += shaded(canvas.band(
      drawing.now,
      [](const Prospect& one) { return std::max(0.0, one.catches - errors * one.sampling_error); },
      [](const Prospect& one) {
        return std::min(1.0, one.catches + errors * one.sampling_error);
      }));
  if (!drawing.before.empty()) text += line(canvas.path(drawing.before, catches), true);
  text += line(canvas.path(drawing.now, catches), false);
  if (std::isfinite(drawing.asked)) {
    text += fmt::format(
        "<line x1=\"{0}\" x2=\"{1}\" y1=\"{2:.1f}\" y2=\"{2:.1f}\" stroke=\"#1c1c1c\" "
        "stroke-dasharray=\"2 3\"/>\n",
        left,
        width - right,
        canvas.y(drawing.asked));
  }
  text += canvas.mount(drawing.mount, drawing.mount_word) + canvas.next(drawing.next);
  text += attempt_marks(drawing, canvas);
  return framed(text, "Probability of a start against the distance from fan to mouth");
}

std::string airflow_svg(const ChanceDrawing& drawing) {
  double most = 0.0;
  for (const auto& one : drawing.now) most = std::max(most, one.airflow_high);
  for (const auto& one : drawing.before) most = std::max(most, one.airflow_median);
  const Canvas canvas(drawing.now.front().stand_off,
                      drawing.now.back().stand_off,
                      1.05 * most,
                      Dimension::mass_flow,
                      drawing.system);
  const auto middle = [](const Prospect& one) { return one.airflow_median; };
  auto text = canvas.axes("airflow", "");
  text += shaded(canvas.band(
      drawing.now,
      [](const Prospect& one) { return one.airflow_low; },
      [](const Prospect& one) { return one.airflow_high; }));
  if (!drawing.before.empty()) text += line(canvas.path(drawing.before, middle), true);
  text += line(canvas.path(drawing.now, middle), false);
  text += canvas.mount(drawing.mount, drawing.mount_word) + canvas.next(drawing.next);
  return framed(text, "Delivered airflow against the distance from fan to mouth");
}

}  // namespace windgap::report
