#pragma once

#include <string_view>

/// What the page carries with it, put into the program when it is built.
namespace windgap::report {

/// The plotting library's modules as one script that defines `need(name)`, left open for ours.
[[nodiscard]] std::string_view plot_library();
/// Its terms of use, as its package states them.
[[nodiscard]] std::string_view plot_library_terms();
/// Draws every plot of the page.
[[nodiscard]] std::string_view plot_script();
[[nodiscard]] std::string_view page_style();
/// Sorts a table by the heading that is pressed, and how such a page differs in style.
[[nodiscard]] std::string_view sort_script();
[[nodiscard]] std::string_view choose_style();

}  // namespace windgap::report
