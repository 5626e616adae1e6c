// SPDX-License-Identifier: Apache-2.0
#include "harness/sheet.hpp"

#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <sstream>

namespace pullsheet::harness {
namespace {

namespace fs = std::filesystem;

std::string variable(const char* name) {
    const char* value = std::getenv(name);
    return value ? value : "";
}

bool is_program(const fs::path& path) {
    return ::access(path.c_str(), X_OK) == 0 && !fs::is_directory(path);
}

fs::path sheet_program(catalogue::Language language) {
    std::error_code error;
    const fs::path folder = fs::read_symlink("/proc/self/exe", error).parent_path();
    for (const fs::path& place :
         {folder / "pullsheet-sheet", folder / "../libexec/pullsheet/pullsheet-sheet",
          folder / "../lib/pullsheet/pullsheet-sheet", folder / "sheet/pullsheet-sheet"})
        if (is_program(place)) return place.lexically_normal();
    throw FileNotReadable(say(language,
                              "the program pullsheet-sheet, which drives the office, is missing beside "
                              "pullsheet ({folder}); install or build Pullsheet with its Calc extension",
                              {{"folder", folder.string()}}));
}

}  // namespace

std::string office_folder() {
    const auto is_office = [](const fs::path& folder) {
        return is_program(folder / "program" / "soffice.bin");
    };
    if (const std::string asked = variable("PULLSHEET_OFFICE"); !asked.empty())
        return is_office(asked) ? asked : "";
    std::istringstream folders(variable("PATH"));
    for (std::string folder; std::getline(folders, folder, ':');) {
        std::error_code error;
        const fs::path program = fs::canonical(fs::path(folder) / "soffice", error);
        if (!error && is_office(program.parent_path().parent_path()))
            return program.parent_path().parent_path().string();
    }
    std::vector<fs::path> places = {"/usr/lib/libreoffice", "/usr/lib64/libreoffice"};
    std::error_code error;
    std::vector<fs::path> versions;
    for (const auto& entry : fs::directory_iterator("/opt", error))
        if (entry.path().filename().string().starts_with("libreoffice")) versions.push_back(entry.path());
    std::sort(versions.rbegin(), versions.rend());
    places.insert(places.end(), versions.begin(), versions.end());
    for (const fs::path& place : places)
        if (is_office(place)) return place.string();
    return {};
}

int start_sheet_program(const SheetRequest& request, const Output&, const Streams& streams) {
    const fs::path program = sheet_program(streams.language);
    const std::string office = office_folder();
    if (office.empty())
        throw FileNotReadable(
            variable("PULLSHEET_OFFICE").empty()
                ? say(streams.language,
                      "LibreOffice is missing: install libreoffice-calc, or name its folder in "
                      "PULLSHEET_OFFICE",
                      {})
                : say(streams.language,
                      "there is no LibreOffice in the folder that PULLSHEET_OFFICE names ({folder})",
                      {{"folder", variable("PULLSHEET_OFFICE")}}));
    // Its libraries are the office's own, and what they need to know stands beside them.
    const std::string libraries = office + "/program";
    const std::string others = variable("LD_LIBRARY_PATH");
    ::setenv("LD_LIBRARY_PATH", (others.empty() ? libraries : libraries + ":" + others).c_str(), 1);
    ::setenv("URE_BOOTSTRAP", ("vnd.sun.star.pathname:" + libraries + "/fundamentalrc").c_str(), 1);
    ::setenv("PULLSHEET_OFFICE", office.c_str(), 1);
    std::string name = program.string();
    std::vector<std::string> words = request.words;
    std::vector<char*> arguments{name.data()};
    for (std::string& word : words) arguments.push_back(word.data());
    arguments.push_back(nullptr);
    streams.out.flush();
    streams.error.flush();
    ::execv(name.c_str(), arguments.data());
    const std::string reason = std::strerror(errno);
    throw FileNotReadable(say(streams.language, "{program} cannot be started: {reason}",
                              {{"program", name}, {"reason", reason}}));
}

}  // namespace pullsheet::harness
