// SPDX-License-Identifier: Apache-2.0
// fuzz_inputs seeds FOLDER                 the first inputs of every target, made from the catalogue, a
// folder each fuzz_inputs unpack FILE FOLDER           kept inputs become files, as a fuzzer wants them
// fuzz_inputs pack FOLDER FILE             and back
#include <cstdio>
#include <exception>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <sstream>

#include "core/catalogue/sentences.hpp"
#include "tests/fuzz/arguments.hpp"
#include "tests/fuzz/inputs.hpp"

namespace pullsheet::fuzz {
namespace {

namespace fs = std::filesystem;

void write_file(const fs::path& folder, const std::string& input) {
    fs::create_directories(folder);
    std::ostringstream name;
    name << std::hex << std::hash<std::string>{}(input);
    std::ofstream(folder / name.str(), std::ios::binary) << input;
}

void write_seeds(const fs::path& folder) {
    for (const auto& function : catalogue::functions()) {
        const auto key = key_of(function.name.view());
        // The example as it is.
        write_file(folder / "catalogue", {static_cast<char>(key & 0xff), static_cast<char>(key >> 8)});
        for (const auto& parameter : function.parameters)
            for (const auto symbol : catalogue::unit_symbols(parameter.quantity))
                write_file(folder / "number", std::string{static_cast<char>(parameter.quantity), 0, 0} +
                                                  "12.5 " + std::string(symbol));
        std::string header;
        std::string row;
        std::string json;
        const auto& arguments = function.example.arguments;
        for (std::size_t i = 0; i < function.parameters.size() && i < arguments.size(); ++i) {
            const std::string between = i > 0 ? "," : "";
            std::string value;
            if (const auto* number = std::get_if<double>(&arguments[i]))
                value = catalogue::exact_text(*number);
            if (const auto* text = std::get_if<std::string>(&arguments[i])) value = "\"" + *text + "\"";
            const std::string name(function.parameters[i].name);
            header += between + name;
            row += between + value;
            json += between + "\"" + name + "\":" + (value.empty() ? "null" : value);
        }
        const std::string options{0, static_cast<char>(key & 0xff), static_cast<char>(key >> 8), 0, 0};
        write_file(folder / "batch", options + header + "\n" + row + "\n");
        write_file(folder / "batch", options + "[{" + json + "}]\n");
    }
}

void unpack(const fs::path& file, const fs::path& folder) {
    fs::create_directories(folder);
    if (!fs::exists(file)) return;
    for (const std::string& input : read_inputs(file)) write_file(folder, input);
}

void pack(const fs::path& folder, const fs::path& file) {
    std::vector<std::string> inputs;
    for (const auto& entry : fs::directory_iterator(folder)) {
        std::ifstream in(entry.path(), std::ios::binary);
        inputs.emplace_back(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
    }
    write_inputs(file, std::move(inputs));
}

}  // namespace
}  // namespace pullsheet::fuzz

int main(int count, char** arguments) {
    using namespace pullsheet::fuzz;
    const std::string what = count > 1 ? arguments[1] : "";
    try {
        if (what == "seeds" && count == 3) {
            write_seeds(arguments[2]);
        } else if (what == "unpack" && count == 4) {
            unpack(arguments[2], arguments[3]);
        } else if (what == "pack" && count == 4) {
            pack(arguments[2], arguments[3]);
        } else {
            std::fprintf(stderr, "fuzz_inputs seeds FOLDER | unpack FILE FOLDER | pack FOLDER FILE\n");
            return 2;
        }
        return 0;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 1;
    }
}
