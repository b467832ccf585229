#include <iostream>
#include <string>
#include <vector>

#include "cli/run.hpp"
#include "store/files.hpp"
#include "store/journal_file.hpp"

int main(int argc, char** argv) {
  std::ios::sync_with_stdio(false);
  std::cin.tie(nullptr);
  const std::vector<std::string> arguments(argv + (argc > 0 ? 1 : 0), argv + argc);
  return backplan::cli::run(
      arguments, {std::cin, std::cout, std::cerr},
      {backplan::store::environment_variables(), backplan::store::today(), backplan::store::new_id,
       backplan::store::seconds_passed, backplan::store::errors_go_to_a_terminal()});
}
