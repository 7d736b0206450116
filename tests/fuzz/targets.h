#pragma once

#include <string_view>

/// What the fuzzers feed with bytes, and what must hold whatever the bytes are: an answer or a
/// refusal with a reason, never a crash, an endless loop or a number that is none. A broken promise
/// aborts, so that a fuzzer keeps the bytes.
namespace windgap::fuzz {

/// Text of a quantity, read as each dimension.
void quantity(std::string_view bytes);

/// A YAML file as far as its tree.
void document(std::string_view bytes);

/// A case with the installed models; what is accepted delivers finite air.
void bench(std::string_view bytes);

/// A case that needs no rig: igniters and the gas at every plug, with the installed models; what is
/// accepted is judged in finite numbers.
void igniters(std::string_view bytes);

/// A log of attempts.
void attempts(std::string_view bytes);

}  // namespace windgap::fuzz
