#include "report/drill_template.h"

#include <dxflib/dl_dxf.h>
#include <dxflib/dl_writer_ascii.h>
#include <fmt/format.h>
#include <unistd.h>

#include <array>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <memory>
#include <sstream>
#include <stdexcept>

#include "report/html_text.h"

namespace windgap::report {
namespace {

constexpr double millimetre = 1e-3;

/// A4 across, in millimetres.
struct Sheet {
  static constexpr double width = 297.0;
  static constexpr double height = 210.0;
  static constexpr double margin = 18.0;
  static constexpr double axis = 95.0;  ///< of the slot, from the top
  static constexpr double check = 165.0;
  static constexpr double span = 250.0;  ///< of slot that one sheet shows
  static constexpr double overlap = 10.0;
};

double mm(double metres) { return metres / millimetre; }

/// Removes its file when it goes.
class Temporary {
 public:
  Temporary() {
    auto name = (std::filesystem::temp_directory_path() / "windgap-XXXXXX").string();
    const int number = ::mkstemp(name.data());
    if (number < 0) throw std::runtime_error("no temporary file could be made for the drawing");
    (void)::close(number);
    path_ = name;
  }
  ~Temporary() {
    std::error_code ignored;
    std::filesystem::remove(path_, ignored);
  }
  Temporary(const Temporary&) = delete;
  Temporary& operator=(const Temporary&) = delete;
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

/// Which sheet of how many.
struct SheetNumber {
  std::size_t number;
  std::size_t count;
};

/// One sheet's marks; x of a distance [m] on paper [mm].
class Paper {
 public:
  Paper(double from, SheetNumber sheet) : from_(from), sheet_(sheet) {}

  [[nodiscard]] double x(double distance) const { return Sheet::margin + mm(distance - from_); }
  [[nodiscard]] double from() const { return from_; }
  [[nodiscard]] double to() const { return from_ + Sheet::span * millimetre; }

  void line(double x1, double y1, double x2, double y2, std::string_view kind) {
    body_ += fmt::format(
        "<line class=\"{}\" x1=\"{:.3f}\" y1=\"{:.3f}\" x2=\"{:.3f}\" y2=\"{:.3f}\"/>\n",
        kind,
        x1,
        y1,
        x2,
        y2);
  }
  void text(double at, double y, std::string_view anchor, const std::string& words) {
    body_ += fmt::format("<text x=\"{:.3f}\" y=\"{:.3f}\" text-anchor=\"{}\">{}</text>\n",
                         at,
                         y,
                         anchor,
                         escaped(words));
  }
  void add(const std::string& element) { body_ += element; }

  [[nodiscard]] std::string svg() const {
    return fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" "
        "viewBox=\"0 0 {0} {1}\">\n<title>Drilling template, sheet {2} of {3}</title>\n"
        "<style>\n@page {{ size: {0}mm {1}mm; margin: 0; }}\nline, path, circle {{ fill: none; "
        "stroke: #000; stroke-width: .25; }}\n"
        ".axis {{ stroke-dasharray: 9 2 1.5 2; stroke-width: .18; }}\n"
        ".edge {{ stroke-width: .35; }}\n.bar {{ fill: #000; stroke: none; }}\n"
        "text {{ font: 3.4px \"Liberation Serif\", Georgia, serif; }}\n"
        "</style>\n<rect width=\"{0}\" height=\"{1}\" fill=\"#fff\"/>\n{4}</svg>\n",
        Sheet::width,
        Sheet::height,
        sheet_.number,
        sheet_.count,
        body_);
  }

 private:
  double from_;
  SheetNumber sheet_;
  std::string body_;
};

void draw_scale(Paper& paper) {
  constexpr double step = 0.01;
  constexpr long long numbered = 5;
  constexpr double y = Sheet::axis + 24.0;
  const auto first = static_cast<long long>(std::ceil(paper.from() / step - 1e-9));
  for (long long i = first; static_cast<double>(i) * step <= paper.to() + 1e-9; ++i) {
    const double x = paper.x(static_cast<double>(i) * step);
    const bool long_tick = i % numbered == 0;
    paper.line(x, y, x, y + (long_tick ? 4.0 : 2.0), "tick");
    if (long_tick) paper.text(x, y + 8.5, "middle", fmt::format("{}", 10 * i));
  }
}

void draw_slot(Paper& paper, const DrillTemplate& drawing) {
  const double half = mm(drawing.width) / 2.0;
  const double near = paper.x(drawing.near);
  const double far = paper.x(drawing.far);
  constexpr double y = Sheet::axis;
  paper.add(fmt::format(
      "<path class=\"edge\" d=\"M{0:.3f} {2:.3f}H{1:.3f}A{4:.3f} {4:.3f} 0 0 1 {1:.3f} {3:.3f}"
      "H{0:.3f}A{4:.3f} {4:.3f} 0 0 1 {0:.3f} {2:.3f}Z\"/>\n",
      near,
      far,
      y - half,
      y + half,
      half));
  for (const double end : {near, far}) paper.line(end, y - 9.0, end, y + 9.0, "tick");
  const double mount = paper.x(drawing.drill);
  paper.line(mount, y - 16.0, mount, y + 16.0, "tick");
  paper.add(fmt::format(
      "<circle cx=\"{:.3f}\" cy=\"{:.3f}\" r=\"{:.3f}\"/>\n", mount, y, mm(drawing.bolt) / 2.0));
  paper.text(mount, y - 18.0, "middle", fmt::format("mount {:.1f} mm", mm(drawing.drill)));
  if (far - near > 40.0) {
    paper.text(near, y - 11.0, "middle", fmt::format("{:.1f}", mm(drawing.near)));
  }
}

void draw_check(Paper& paper) {
  const double left = Sheet::margin;
  const double right = left + mm(DrillTemplate::check_length);
  constexpr double thick = 2.5;
  paper.add(
      fmt::format("<rect class=\"bar\" x=\"{:.3f}\" y=\"{:.3f}\" width=\"{:.3f}\" "
                  "height=\"{}\"/>\n",
                  left,
                  Sheet::check,
                  right - left,
                  thick));
  paper.text(right + 4.0,
             Sheet::check + 2.4,
             "start",
             fmt::format("This bar is {:.0f} mm long. Lay a steel rule on it; if it is not, the "
                         "printer scaled the sheet.",
                         mm(DrillTemplate::check_length)));
}

void draw_words(Paper& paper, const DrillTemplate& drawing, SheetNumber sheet) {
  double y = 18.0;
  const auto say = [&](const std::string& words) {
    paper.text(Sheet::margin, y, "start", words);
    y += 6.0;
  };
  say(fmt::format("{}{}: slot of the starter fan's bracket{}",
                  drawing.title,
                  drawing.title.empty() ? drawing.pair : ", " + drawing.pair,
                  sheet.count > 1 ? fmt::format(", sheet {} of {}", sheet.number, sheet.count)
                                  : std::string()));
  say(
      fmt::format("Numbers are millimetres from the plane of the inlet mouth to the {}, along the "
                  "engine's axis. The mouth is to the left.",
                  drawing.to_holes ? "bolt's centre" : "fan's exit plane"));
  say(
      fmt::format("Lay the line marked {:.0f} at {:.0f} mm from the mouth. Slot {:.1f} mm wide for "
                  "bolts of {:.1f} mm. Print at 100 %, on A4 across.",
                  mm(paper.from()),
                  mm(paper.from()),
                  mm(drawing.width),
                  mm(drawing.bolt)));
  if (!drawing.to_holes) {
    say("The bracket's holes sit elsewhere: give mount.holes_to_exit in the case, or shift the "
        "sheet by that length.");
  }
  double below = 181.0;
  for (const auto* const words :
       {"Stay out of the plane of fan and engine rotors, they can burst. Local codes come first.",
        "Nothing loose at the inlet: chips, screws and tools are drawn in. Clear the bench after "
        "drilling.",
        "Unplug the lithium pack before working on the bracket. A computed distance does not make "
        "a "
        "bench safe."}) {
    paper.text(Sheet::margin, below, "start", words);
    below += 6.0;
  }
}

std::string sheet(const DrillTemplate& drawing, double from, SheetNumber number) {
  Paper paper(from, number);
  draw_words(paper, drawing, number);
  draw_scale(paper);
  paper.add(
      fmt::format("<svg x=\"{0}\" y=\"60\" width=\"{1}\" height=\"56\" viewBox=\"{0} 60 {1} "
                  "56\">\n",
                  Sheet::margin - 8.0,
                  Sheet::span + 16.0));
  paper.line(
      Sheet::margin - 8.0, Sheet::axis, Sheet::margin + Sheet::span + 8.0, Sheet::axis, "axis");
  draw_slot(paper, drawing);
  paper.add("</svg>\n");
  for (const double end : {paper.from(), paper.to()}) {
    const double x = paper.x(end);
    paper.line(x, Sheet::axis - 30.0, x, Sheet::axis + 24.0, "tick");
  }
  draw_check(paper);
  return paper.svg();
}

}  // namespace

DrillTemplate drill_template(const ChooseOutcome& outcome) {
  if (!has_mount(outcome)) throw std::logic_error("there is no slot to draw");
  constexpr double lead = 0.02;
  constexpr double grid = 0.05;
  const auto& bench = outcome.bench;
  const auto& best = best_choice(outcome);
  const auto& rules = bench.models.choice;
  const bool known = std::isfinite(bench.drilling.holes_to_exit);
  const double shift = known ? bench.drilling.holes_to_exit : 0.0;
  // The pick was placed with its whole slot, where the ranking looks no nearer than it must.
  const auto& picks = outcome.ranking.picks;
  const auto& placed = !picks.empty() ? picks.front().answer.advice : best.placement;
  DrillTemplate drawing{
      .title = bench.title,
      .pair = pair_label(outcome, best),
      .near = placed.slot.near + shift,
      .far = placed.slot.far + shift,
      .drill = placed.stand_off + shift,
      .bolt = std::isfinite(bench.choosing.bolt) ? bench.choosing.bolt : rules.bolt_diameter,
      .to_holes = known};
  drawing.width = rules.bolt_play * drawing.bolt;
  drawing.zero = grid * std::floor((drawing.near - lead) / grid);
  return drawing;
}

std::vector<std::string> template_svg(const DrillTemplate& drawing) {
  constexpr double tail = 0.015;
  constexpr double advance = (Sheet::span - Sheet::overlap) * millimetre;
  std::vector<double> starts{drawing.zero};
  while (starts.back() + Sheet::span * millimetre < drawing.far + tail) {
    starts.push_back(starts.back() + advance);
  }
  std::vector<std::string> sheets;
  for (std::size_t i = 0; i < starts.size(); ++i) {
    sheets.push_back(sheet(drawing, starts[i], {.number = i + 1, .count = starts.size()}));
  }
  return sheets;
}

std::string template_dxf(const DrillTemplate& drawing) {
  constexpr double text_height = 3.5;
  const Temporary file;
  DL_Dxf dxf;
  const std::unique_ptr<DL_WriterA> writer(dxf.out(file.path().c_str(), DL_Codes::AC1015));
  if (!writer) throw std::runtime_error("the drawing could not be started");
  auto& out = *writer;
  dxf.writeHeader(out);
  out.dxfString(9, "$INSUNITS");
  out.dxfInt(70, 4);  // millimetres
  out.dxfString(9, "$MEASUREMENT");
  out.dxfInt(70, 1);  // metric
  out.sectionEnd();
  out.sectionTables();
  dxf.writeVPort(out);
  out.tableLinetypes(2);
  dxf.writeLinetype(out, DL_LinetypeData("BYLAYER", "", 0, 0, 0.0));
  dxf.writeLinetype(out, DL_LinetypeData("CONTINUOUS", "Continuous", 0, 0, 0.0));
  out.tableEnd();
  const auto layers = std::to_array<const char*>({"0", "SLOT", "MOUNT", "AXIS", "CHECK", "TEXT"});
  out.tableLayers(static_cast<int>(layers.size()));
  for (const auto* layer : layers) {
    dxf.writeLayer(out, DL_LayerData(layer, 0), DL_Attributes("", 7, 0xffffff, 25, "CONTINUOUS"));
  }
  out.tableEnd();
  out.tableStyle(1);
  dxf.writeStyle(out, DL_StyleData("Standard", 0, 0.0, 1.0, 0.0, 0, text_height, "txt", ""));
  out.tableEnd();
  dxf.writeView(out);
  dxf.writeUcs(out);
  out.tableAppid(1);
  dxf.writeAppid(out, "ACAD");
  out.tableEnd();
  dxf.writeDimStyle(out, 2.5, 1.0, 0.6, 0.6, text_height);
  dxf.writeBlockRecord(out);
  out.tableEnd();
  out.sectionEnd();
  out.sectionBlocks();
  for (const auto* block : {"*Model_Space", "*Paper_Space", "*Paper_Space0"}) {
    dxf.writeBlock(out, DL_BlockData(block, 0, 0.0, 0.0, 0.0));
    dxf.writeEndBlock(out, block);
  }
  out.sectionEnd();
  out.sectionEntities();
  const auto on = [](const char* layer) { return DL_Attributes(layer, 256, -1, -1, "BYLAYER"); };
  const double half = mm(drawing.width) / 2.0;
  const double near = mm(drawing.near);
  const double far = mm(drawing.far);
  dxf.writeLine(out, DL_LineData(near, half, 0, far, half, 0), on("SLOT"));
  dxf.writeLine(out, DL_LineData(near, -half, 0, far, -half, 0), on("SLOT"));
  dxf.writeArc(out, DL_ArcData(near, 0, 0, half, 90, 270), on("SLOT"));
  dxf.writeArc(out, DL_ArcData(far, 0, 0, half, 270, 90), on("SLOT"));
  dxf.writeCircle(out, DL_CircleData(mm(drawing.drill), 0, 0, mm(drawing.bolt) / 2.0), on("MOUNT"));
  dxf.writeLine(out, DL_LineData(mm(drawing.zero), 0, 0, far + 20.0, 0, 0), on("AXIS"));
  dxf.writeLine(out, DL_LineData(mm(drawing.zero), -30, 0, mm(drawing.zero), 30, 0), on("AXIS"));
  const double check = mm(DrillTemplate::check_length);
  const double left = mm(drawing.zero);
  dxf.writeLine(out, DL_LineData(left, -45, 0, left + check, -45, 0), on("CHECK"));
  const auto write = [&](double x, double y, const std::string& words) {
    dxf.writeText(out,
                  DL_TextData(x, y, 0, x, y, 0, text_height, 1.0, 0, 0, 0, words, "Standard", 0.0),
                  on("TEXT"));
  };
  write(left + check + 4.0, -46.5, fmt::format("check length {:.0f} mm", check));
  write(left, 34.0, fmt::format("{:.0f} mm from the mouth", left));
  write(mm(drawing.drill), 12.0, fmt::format("mount {:.1f} mm", mm(drawing.drill)));
  out.sectionEnd();
  dxf.writeObjects(out);
  dxf.writeObjectsEnd(out);
  out.dxfEOF();
  out.close();
  std::ifstream written(file.path(), std::ios::binary);
  std::ostringstream text;
  text << written.rdbuf();
  if (!written) throw std::runtime_error("the drawing could not be read back");
  return text.str();
}

std::optional<choice::Bracket> bracket_of(const ChooseOutcome& outcome,
                                          const choice::Question& question) {
  const auto& best = best_choice(outcome);
  auto placed = outcome.ranking.picks.front().answer.advice;
  const auto& list = outcome.catalogue;
  const auto parts = choice::bench_of(
      question, list.fans[best.fan], best.pack ? &list.packs[*best.pack] : nullptr);
  const bool reliable = std::isfinite(question.need.reliability);
  // Beyond the mount of the nearer bound that bound has no air to spare; the likeliest jet has.
  const auto rig =
      placement::as_placed(start::assemble(parts,
                                           question.models,
                                           reliable ? rig::JetChoice::estimated : best.jet,
                                           question.deriving),
                           placed);
  double height = outcome.bench.choosing.bracket_height;
  if (std::isnan(height)) {
    const auto* ducted = std::get_if<fan::Fan>(&parts.source);
    const double size = ducted != nullptr ? ducted->outer_diameter : 2.0 * rig.fan.rim_radius;
    height = question.rules.bracket_height * size;
  }
  auto need = question.need;
  if (reliable) {
    placed.mount = placement::look(rig, placed.stand_off, need);
    need.margin = placed.mount.delivery.airflow / placed.starting_airflow - 1.0;
    if (!(need.margin > 0.0)) return std::nullopt;
  }
  return choice::bracket(rig, placed, need, height, question.rules);
}

}  // namespace windgap::report
