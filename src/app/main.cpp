#include <iostream>

#include "app/app.h"

int main(int argc, char** argv) {
  std::ios::sync_with_stdio(false);
  return windgap::app::run(argc, argv, std::cout, std::cerr);
}
