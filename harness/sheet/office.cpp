// SPDX-License-Identifier: Apache-2.0
#include "harness/sheet/office.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <signal.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <com/sun/star/bridge/UnoUrlResolver.hpp>
#include <com/sun/star/connection/NoConnectException.hpp>
#include <com/sun/star/frame/Desktop.hpp>
#include <cppuhelper/bootstrap.hxx>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <iostream>
#include <rtl/bootstrap.hxx>
#include <set>
#include <sstream>
#include <vector>

#include "addin/office/text.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {
namespace {

namespace fs = std::filesystem;
namespace uno = com::sun::star::uno;
using Clock = std::chrono::steady_clock;
using office::to_unicode;
using std::chrono::milliseconds;

/// The exit code with which the office asks to be started again.
constexpr int start_again = 81;

// A profile that looks as if it had been started before: no first-start work, no recovery, no tips. Documents
// are not computed when they are opened: that is done once, for all cells, when the inputs are set.
// What the cells show is the same whatever the language of the environment. Nothing that a document names
// elsewhere is fetched: links are blocked, and the office knows no way to the network.
constexpr const char* settings = R"(<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Setup/Product"><prop oor:name="ooSetupLastVersion" oor:op="fuse"><value>{version}</value></prop></item>
<item oor:path="/org.openoffice.Office.Common/Misc"><prop oor:name="FirstRun" oor:op="fuse"><value>false</value></prop></item>
<item oor:path="/org.openoffice.Office.Common/Misc"><prop oor:name="ShowTipOfTheDay" oor:op="fuse"><value>false</value></prop></item>
<item oor:path="/org.openoffice.Office.Recovery/RecoveryInfo"><prop oor:name="Enabled" oor:op="fuse"><value>false</value></prop></item>
<item oor:path="/org.openoffice.Office.Recovery/AutoSave"><prop oor:name="Enabled" oor:op="fuse"><value>false</value></prop></item>
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="ODFRecalcMode" oor:op="fuse"><value>1</value></prop></item>
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>1</value></prop></item>
<item oor:path="/org.openoffice.Setup/L10N"><prop oor:name="ooSetupSystemLocale" oor:op="fuse"><value>en-GB</value></prop></item>
<item oor:path="/org.openoffice.Office.Common/Security/Scripting"><prop oor:name="BlockUntrustedRefererLinks" oor:op="fuse"><value>true</value></prop></item>
<item oor:path="/org.openoffice.Office.Common/Security/Scripting"><prop oor:name="MacroSecurityLevel" oor:op="fuse"><value>3</value></prop></item>
<item oor:path="/org.openoffice.Office.Calc/Content/Update"><prop oor:name="Link" oor:op="fuse"><value>2</value></prop></item>
<item oor:path="/org.openoffice.Office.Linguistic/General"><prop oor:name="UILocale" oor:op="fuse"><value>en-US</value></prop></item>
{networks}</oor:items>
)";

// The office's ways to the network, taken away.
std::string no_networks() {
    std::string items;
    for (const char* provider : {"Provider3", "Provider4", "Provider4a", "Provider6", "Provider12",
                                 "Provider12a", "Provider12b", "Provider43"})
        items
            .append(
                "<item "
                "oor:path=\"/org.openoffice.ucb.Configuration/ContentProviders/Local/SecondaryKeys/Office/"
                "ProviderData\"><node oor:name=\"")
            .append(provider)
            .append("\" oor:op=\"remove\"/></item>\n");
    return items;
}

// The version of the office as two numbers, "7.4".
std::string version_of(const fs::path& office) {
    std::ifstream file(office / "program" / "bootstraprc");
    for (std::string line; std::getline(file, line);)
        if (line.starts_with("ProductKey=")) return line.substr(line.rfind(' ') + 1);
    return "7.4";
}

std::string url_of(const fs::path& path) {
    std::string url = "file://";
    for (const char c : path.string()) {
        const auto byte = static_cast<unsigned char>(c);
        if (std::isalnum(byte) != 0 || std::strchr("/-_.~", c) != nullptr) {
            url += c;
        } else {
            constexpr char digits[] = "0123456789ABCDEF";
            url.append({'%', digits[byte >> 4], digits[byte & 15]});
        }
    }
    return url;
}

sigset_t watched_signals() {
    sigset_t set;
    sigemptyset(&set);
    for (const int signal : {SIGINT, SIGTERM, SIGHUP, SIGUSR1}) sigaddset(&set, signal);
    return set;
}

// The socket files that the process listens on: the office leaves them in /tmp when it is killed.
std::vector<std::string> sockets_of(pid_t process) {
    std::set<std::string> numbers;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator("/proc/" + std::to_string(process) + "/fd", error)) {
        const std::string target = fs::read_symlink(entry.path(), error).string();
        if (target.starts_with("socket:[")) numbers.insert(target.substr(8, target.size() - 9));
    }
    std::vector<std::string> paths;
    std::ifstream table("/proc/net/unix");
    for (std::string line; std::getline(table, line);) {
        std::istringstream words(line);
        std::string word, number, path;
        for (int i = 0; i < 6; ++i) words >> word;
        if (words >> number >> path && numbers.contains(number) &&
            path.find("/OSL_PIPE_") != std::string::npos)
            paths.push_back(path);
    }
    return paths;
}

}  // namespace

Office::Office(const fs::path& folder, const fs::path& extension, std::chrono::seconds timeout,
               std::string too_late, catalogue::Language language)
    : folder_(folder),
      deadline_(Clock::now() + timeout),
      too_late_(std::move(too_late)),
      language_(language) {
    // Only the watching thread hears of signals.
    const sigset_t signals = watched_signals();
    pthread_sigmask(SIG_BLOCK, &signals, nullptr);
    std::string pattern = (fs::temp_directory_path() / "pullsheet-sheet-XXXXXX").string();
    if (!mkdtemp(pattern.data()))
        throw FileNotReadable(
            say(language_, "no temporary folder can be made in {folder}: {reason}",
                {{"folder", fs::temp_directory_path().string()}, {"reason", std::strerror(errno)}}));
    home_ = pattern;
    pipe_ = home_.filename().string();
    watcher_ = std::thread([this] { watch(); });
    try {
        prepare_profile(extension);
        start();
        connect();
    } catch (...) {
        clean_up();
        pthread_kill(watcher_.native_handle(), SIGUSR1);
        watcher_.join();
        throw;
    }
}

Office::~Office() {
    try {
        com::sun::star::frame::Desktop::create(context_)->terminate();
        for (int i = 0; i < 500 && process_ > 0; ++i) {
            if (waitpid(process_, nullptr, WNOHANG) == process_)
                process_ = 0;
            else
                std::this_thread::sleep_for(milliseconds(10));
        }
    } catch (const uno::Exception&) {
        // It is gone, or does not listen: it is ended below.
    }
    context_.clear();
    clean_up();
    pthread_kill(watcher_.native_handle(), SIGUSR1);
    watcher_.join();
}

void Office::prepare_profile(const fs::path& extension) {
    fs::create_directories(home_ / "profile" / "user");
    fs::create_directories(home_ / "extensions");
    fs::create_directories(home_ / "tmp");
    std::ofstream(home_ / "profile" / "user" / "registrymodifications.xcu")
        << fmt::format(fmt::runtime(settings), fmt::arg("version", version_of(folder_)),
                       fmt::arg("networks", no_networks()));
    if (!extension.empty()) fs::create_directory_symlink(extension, home_ / "extensions" / "pullsheet");
}

void Office::start() {
    std::vector<std::string> words = {(folder_ / "program" / "soffice.bin").string(),
                                      "--headless",
                                      "--invisible",
                                      "--norestore",
                                      "--nologo",
                                      "--nodefault",
                                      "--nolockcheck",
                                      "-env:UserInstallation=" + url_of(home_ / "profile"),
                                      "--accept=pipe,name=" + pipe_ + ";urp"};
    // Taken for one that came with the office: it is registered in the one start.
    if (!fs::is_empty(home_ / "extensions"))
        words.push_back("-env:BUNDLED_EXTENSIONS=" + url_of(home_ / "extensions"));
    // The names of files are UTF-8, whatever the locale can write and be it installed or not.
    std::vector<std::string> variables = {"SAL_USE_VCLPLUGIN=svp", "TMPDIR=" + (home_ / "tmp").string(),
                                          "LC_ALL=C.UTF-8"};
    for (char** variable = environ; *variable; ++variable) {
        const std::string_view text = *variable;
        const auto is_ours = [&](std::string_view name) { return text.starts_with(name); };
        if (!is_ours("SAL_USE_VCLPLUGIN=") && !is_ours("TMPDIR=") && !is_ours("LC_ALL=") &&
            !is_ours("URE_BOOTSTRAP="))
            variables.emplace_back(text);
    }
    const auto pointers = [](std::vector<std::string>& texts) {
        std::vector<char*> result;
        for (std::string& text : texts) result.push_back(text.data());
        result.push_back(nullptr);
        return result;
    };
    const std::vector<char*> arguments = pointers(words);
    const std::vector<char*> environment = pointers(variables);
    const std::string log = (home_ / "office.log").string();
    const pid_t parent = getpid();
    const pid_t child = fork();
    if (child < 0)
        throw FileNotReadable(say(language_, "{program} cannot be started: {reason}",
                                  {{"program", "LibreOffice"}, {"reason", std::strerror(errno)}}));
    if (child == 0) {
        // A group of its own, so that Ctrl-C comes to us alone; ended by the system if we are killed.
        setpgid(0, 0);
        prctl(PR_SET_PDEATHSIG, SIGKILL);
        if (getppid() != parent) _exit(127);
        sigset_t none;
        sigemptyset(&none);
        sigprocmask(SIG_SETMASK, &none, nullptr);
        const int nothing = open("/dev/null", O_RDONLY);
        const int out = open(log.c_str(), O_WRONLY | O_CREAT | O_APPEND, 0600);
        dup2(nothing, STDIN_FILENO);
        dup2(out, STDOUT_FILENO);
        dup2(out, STDERR_FILENO);
        execve(arguments[0], arguments.data(), environment.data());
        _exit(127);
    }
    process_ = child;
}

void Office::connect() {
    // The components of the user's own profile are none of ours.
    rtl::Bootstrap::set("UserInstallation", to_unicode(url_of(home_ / "profile")));
    const auto local = cppu::defaultBootstrap_InitialComponentContext();
    const auto resolver = com::sun::star::bridge::UnoUrlResolver::create(local);
    const rtl::OUString url = to_unicode("uno:pipe,name=" + pipe_ + ";urp;StarOffice.ComponentContext");
    for (;;) {
        try {
            context_.set(resolver->resolve(url), uno::UNO_QUERY_THROW);
            return;
        } catch (const com::sun::star::connection::NoConnectException&) {
            // Not yet.
        }
        int status = 0;
        if (waitpid(process_, &status, WNOHANG) == process_) {
            process_ = 0;
            if (WIFEXITED(status) && WEXITSTATUS(status) == start_again) {
                start();
                continue;
            }
            std::ifstream log(home_ / "office.log");
            std::string line;
            std::getline(log, line);
            throw FileNotReadable(
                line.empty() ? say(language_, "LibreOffice ended before it could be reached", {})
                             : say(language_, "LibreOffice ended before it could be reached: {reason}",
                                   {{"reason", line}}));
        }
        std::this_thread::sleep_for(milliseconds(20));
    }
}

// Ends the program when it is interrupted or the time is over.
void Office::watch() {
    const sigset_t signals = watched_signals();
    for (;;) {
        const auto left = std::max<std::int64_t>(
            0, std::chrono::duration_cast<milliseconds>(deadline_ - Clock::now()).count());
        const timespec wait{left / 1000, (left % 1000) * 1000000};
        const int signal = sigtimedwait(&signals, nullptr, &wait);
        if (signal == SIGUSR1) return;
        if (signal < 0 && errno == EINTR) continue;
        clean_up();
        if (signal < 0) std::cerr << too_late_ << '\n';
        std::cerr << std::flush;
        _exit(signal < 0 ? static_cast<int>(some_failed) : interrupted_by + signal);
    }
}

void Office::clean_up() noexcept {
    const std::lock_guard lock(cleaning_);
    if (process_ > 0) {
        const pid_t process = process_;
        std::vector<std::string> sockets;
        try {
            sockets = sockets_of(process);
        } catch (const std::exception&) {
            // Small files in /tmp stay then.
        }
        kill(-process, SIGKILL);
        kill(process, SIGKILL);
        waitpid(process, nullptr, 0);
        process_ = 0;
        for (const std::string& socket : sockets) unlink(socket.c_str());
    }
    std::error_code ignored;
    if (!home_.empty()) fs::remove_all(home_, ignored);
}

fs::path find_extension(const fs::path& office, const std::string& asked, catalogue::Language language) {
    const auto is_extension = [](const fs::path& folder) {
        return fs::exists(folder / "pullsheet.components");
    };
    if (!asked.empty()) {
        if (is_extension(asked)) return fs::canonical(asked);
        throw FileNotReadable(
            say(language, "there is no unpacked Pullsheet extension in {folder}", {{"folder", asked}}));
    }
    std::error_code error;
    const fs::path program = fs::read_symlink("/proc/self/exe", error).parent_path();
    // Where it was built.
    if (is_extension(program / "../addin/package")) return fs::canonical(program / "../addin/package");
    for (const auto& entry : fs::directory_iterator(office / "share" / "extensions", error))
        if (is_extension(entry.path())) return {};
    // Installed under a prefix that is not the office's.
    for (const char* prefix : {"..", "../.."})
        if (const fs::path place = program / prefix / "lib/libreoffice/share/extensions/pullsheet";
            is_extension(place))
            return fs::canonical(place);
    throw FileNotReadable(say(language,
                              "the Pullsheet extension is found neither beside the program nor installed in "
                              "{folder}; name the folder of the unpacked extension with --extension",
                              {{"folder", office.string()}}));
}

}  // namespace pullsheet::harness
