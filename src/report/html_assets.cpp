#include "report/html_assets.h"

// A string literal of this size takes a compiler many seconds; the assembler takes the bytes as
// they are.
#define WINDGAP_EMBED(name, file)                 \
  __asm__(                                        \
      ".pushsection .rodata\n"                    \
      ".global windgap_" #name                    \
      "_begin\n"                                  \
      ".global windgap_" #name                    \
      "_end\n"                                    \
      "windgap_" #name "_begin:\n.incbin \"" file \
      "\"\n"                                      \
      "windgap_" #name                            \
      "_end:\n.byte 0\n"                          \
      ".popsection\n");                           \
  extern "C" const char windgap_##name##_begin[]; \
  extern "C" const char windgap_##name##_end[];

WINDGAP_EMBED(library, WINDGAP_PLOT_LIBRARY)
WINDGAP_EMBED(terms, WINDGAP_PLOT_TERMS)
WINDGAP_EMBED(script, WINDGAP_PLOT_SCRIPT)
WINDGAP_EMBED(style, WINDGAP_PAGE_STYLE)
WINDGAP_EMBED(sort, WINDGAP_SORT_SCRIPT)
WINDGAP_EMBED(choose, WINDGAP_CHOOSE_STYLE)

namespace windgap::report {
namespace {

std::string_view between(const char* begin, const char* end) {
  return {begin, static_cast<std::size_t>(end - begin)};
}

}  // namespace

std::string_view plot_library() { return between(windgap_library_begin, windgap_library_end); }
std::string_view plot_library_terms() { return between(windgap_terms_begin, windgap_terms_end); }
std::string_view plot_script() { return between(windgap_script_begin, windgap_script_end); }
std::string_view page_style() { return between(windgap_style_begin, windgap_style_end); }
std::string_view sort_script() { return between(windgap_sort_begin, windgap_sort_end); }
std::string_view choose_style() { return between(windgap_choose_begin, windgap_choose_end); }

}  // namespace windgap::report
