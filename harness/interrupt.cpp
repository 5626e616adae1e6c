// SPDX-License-Identifier: Apache-2.0
#include "harness/interrupt.hpp"

#include <csignal>
#include <initializer_list>

namespace pullsheet::harness {
namespace {

volatile std::sig_atomic_t noted = 0;

void note(int signal) {
    noted = signal;
}

}  // namespace

void catch_interrupts() {
    struct sigaction action {};
    action.sa_handler = note;
    sigemptyset(&action.sa_mask);
    action.sa_flags = static_cast<int>(SA_RESETHAND);  // and no restart: a read that waits comes back
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
        struct sigaction before {};
        // What the caller ignores (nohup) stays ignored.
        if (sigaction(signal, nullptr, &before) == 0 && before.sa_handler != SIG_IGN)
            sigaction(signal, &action, nullptr);
    }
}

int interrupted() {
    return noted;
}

}  // namespace pullsheet::harness
