#include <iostream>
#include <string>
#include <vector>

#include "cli/cli.h"

int main(int count, char** words) {
    return dapple::cli::run(std::vector<std::string>(words + 1, words + count), std::cin, std::cout,
                            std::cerr);
}
