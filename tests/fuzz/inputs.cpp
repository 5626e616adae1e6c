// SPDX-License-Identifier: Apache-2.0
#include "tests/fuzz/inputs.hpp"

#include <algorithm>
#include <boost/algorithm/hex.hpp>
#include <fstream>
#include <iterator>
#include <stdexcept>

namespace pullsheet::fuzz {

std::vector<std::string> read_inputs(const std::filesystem::path& file) {
    std::ifstream in(file);
    if (!in) throw std::runtime_error(file.string() + " cannot be read");
    std::vector<std::string> inputs;
    for (std::string line; std::getline(in, line);) {
        if (line.empty() || line.front() == '#') continue;
        try {
            inputs.push_back(boost::algorithm::unhex(line));
        } catch (const boost::algorithm::hex_decode_error&) {
            throw std::runtime_error(file.string() +
                                     ": a line is not written in hexadecimal digits: " + line);
        }
    }
    return inputs;
}

void write_inputs(const std::filesystem::path& file, std::vector<std::string> inputs) {
    std::sort(inputs.begin(), inputs.end());
    inputs.erase(std::unique(inputs.begin(), inputs.end()), inputs.end());
    std::ofstream out(file);
    out << "# SPDX-License-Identifier: Apache-2.0\n";
    for (const std::string& input : inputs)
        if (!input.empty()) out << boost::algorithm::hex_lower(input) << '\n';
    if (!out.flush()) throw std::runtime_error(file.string() + " cannot be written");
}

}  // namespace pullsheet::fuzz
