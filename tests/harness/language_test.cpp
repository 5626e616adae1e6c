// SPDX-License-Identifier: Apache-2.0
// The command in another language: sentences, help and headings change, data does not.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "core/catalogue/catalogue.hpp"
#include "tests/harness/run.hpp"

namespace pullsheet::harness::test {
namespace {

Answer in_german(std::vector<std::string> words, const std::string& input = {}) {
    words.insert(words.begin(), {"--language", "de"});
    return pullsheet(std::move(words), input);
}

TEST(Language, ListAndShowSpeakIt) {
    EXPECT_TRUE(contains(in_german({"list"}).out, "Dichte feuchter Luft"));
    EXPECT_EQ(lines(in_german({"list"}).out), catalogue::functions().size());
    const Answer shown = in_german({"show", "AIR.DENSITY"});
    EXPECT_EQ(shown.code, done);
    EXPECT_TRUE(contains(shown.out, "AIR.DENSITY(temperature [°C]")) << shown.out;
    for (const auto part : {"Dichte feuchter Luft", "Lufttemperatur", "zulässig: ", "ohne Angabe: 0",
                            "Methode", "Quellen", "Beispiel", "CIPM-2007 mit"})
        EXPECT_TRUE(contains(shown.out, part)) << part << "\n" << shown.out;
    EXPECT_FALSE(contains(shown.out, "allowed")) << shown.out;
    EXPECT_FALSE(contains(shown.out, "omitted")) << shown.out;
}

TEST(Language, ShowSaysAllOfEveryFunctionInIt) {
    for (const auto& function : catalogue::functions()) {
        const Answer answer = in_german({"show", std::string(function.name.view())});
        EXPECT_EQ(answer.code, done) << function.name.view();
        const auto german = [](std::string_view text) {
            return std::string(catalogue::translated(catalogue::Language::german, text));
        };
        EXPECT_TRUE(contains(answer.out, german(function.summary))) << function.name.view();
        EXPECT_TRUE(contains(answer.out, german(function.method))) << function.name.view();
        for (const auto& parameter : function.parameters)
            EXPECT_TRUE(contains(answer.out, german(parameter.meaning))) << function.name.view();
    }
}

TEST(Language, NumbersCarryItsDecimalMark) {
    EXPECT_TRUE(
        contains(in_german({"eval", "AIR.DENSITY", "22", "997.9", "0.5"}).error, "pressure ist 997,9 kPa; "));
    EXPECT_TRUE(contains(in_german({"eval", "AIR.DENSITY", "22", "997,9", "0,5"}).error, "997,9"));
    const std::string shown = in_german({"show", "AIR.DENSITY"}).out;
    EXPECT_TRUE(contains(shown, "=AIR.DENSITY(")) << shown;
    // No help of a function shows a decimal point; sections and versions are no numbers.
    for (const auto& function : catalogue::functions()) {
        std::string help = in_german({"show", std::string(function.name.view())}).out;
        const auto sources = help.find("\nQuellen\n");
        const auto example = help.find("\nBeispiel\n");
        ASSERT_NE(sources, std::string::npos);
        help.erase(sources, example - sources);
        for (const char* section : {"MPMS 11.1"})
            if (const auto at = help.find(section); at != std::string::npos) help.erase(at, 9);
        std::istringstream lines_of_help(help);
        for (std::string line; std::getline(lines_of_help, line);) {
            // What is typed as a text, and the version.
            const bool is_quoted =
                line.find('"') != std::string::npos || function.name.view() == "FUNCTION.VERSION";
            // With its source.
            const bool is_evidence = line.find("getroffen") != std::string::npos ||
                                     line.find("erfüllt innerhalb") != std::string::npos ||
                                     line.find("erfüllt genau") != std::string::npos;
            for (std::size_t i = 1; i + 1 < line.size() && !is_quoted && !is_evidence; ++i)
                EXPECT_FALSE(line[i] == '.' && std::isdigit(line[i - 1]) && std::isdigit(line[i + 1]))
                    << function.name.view() << ": " << line;
        }
    }
    // A value is data, the same in every language.
    EXPECT_EQ(in_german({"eval", "UNIT.CONVERT", "1", "hp", "PS"}).out,
              pullsheet({"eval", "UNIT.CONVERT", "1", "hp", "PS"}).out);
}

TEST(Language, SentencesSpeakIt) {
    EXPECT_TRUE(
        contains(in_german({"eval", "UNIT.CONVERT", "1", "PS", "bar"}).error, "lassen sich nicht umrechnen"));
    EXPECT_TRUE(contains(in_german({"eval", "AIR.DENSITI", "1"}).error, "ist AIR.DENSITY gemeint?"));
    EXPECT_TRUE(contains(in_german({"list", "NOTHING"}).error, "es gibt keine Familie"));
    EXPECT_TRUE(contains(in_german({"batch", "UNIT.CONVERT", "/does/not/exist.csv"}).error,
                         "es gibt keine solche Datei"));
    EXPECT_TRUE(
        contains(in_german({"eval", "DYNO.FACTOR", "ISO 1585", "60", "70", "0.1"}).error, "Warnung: "));
}

TEST(Language, TheReadersOfFilesSpeakIt) {
    const auto refused = [](const std::string& content, std::vector<std::string> options = {}) {
        std::vector<std::string> words = {"batch", "UNIT.CONVERT", "-"};
        words.insert(words.end(), options.begin(), options.end());
        const Answer answer = in_german(std::move(words), content);
        EXPECT_NE(answer.code, done) << content;
        return answer.error;
    };
    EXPECT_EQ(refused("value,from,to\n1,\"PS,kW\n"),
              "Standardeingabe, Zeile 2, Spalte 2: ein Anführungszeichen wird geöffnet und nie geschlossen; "
              "vielleicht ist die Datei abgeschnitten\n");
    EXPECT_EQ(refused("value,from,to\n1,P\"S,kW\n"),
              "Standardeingabe, Zeile 2, Spalte 2: ein Anführungszeichen steht mitten in einem Feld; setzen "
              "Sie das Feld in Anführungszeichen und verdoppeln Sie das innere\n");
    EXPECT_EQ(refused(""), "Standardeingabe ist leer; die erste Zeile muss die Parameter nennen\n");
    EXPECT_TRUE(contains(refused(std::string("\xFF\xFEv\0a\0", 6)), "ist in UTF-16 geschrieben"));
    EXPECT_EQ(refused("value,from,t\xF6\n1,PS,kW\n"),
              "Standardeingabe, Zeile 1, Spalte 3: diese Bytes sind kein UTF-8; speichern Sie die Datei als "
              "UTF-8, oder geben Sie --encoding windows-1252 an\n");
    EXPECT_TRUE(
        contains(refused("value,from,to\n1,P\xF6,kW\n"),
                 "Standardeingabe, Zeile 2: UNIT.CONVERT: Spalte 2 (from): diese Bytes sind kein UTF-8"));
    EXPECT_TRUE(
        contains(refused("[{}]"), "Objekt 1: es hat keine Schlüssel; sie müssen die Parameter nennen"));
    EXPECT_TRUE(contains(refused("[7]"), "Objekt 1: das ist kein Objekt"));
    EXPECT_TRUE(contains(refused("[]"), "Standardeingabe enthält kein Objekt"));
    EXPECT_TRUE(contains(refused("[]", {"--encoding", "latin-1"}), "JSON ist immer UTF-8"));
    EXPECT_TRUE(contains(refused("[{\"value\":1,\"value\":2}]"), "der Schlüssel „value“ kommt zweimal vor"));
    const std::string good = "{\"value\":1,\"from\":\"PS\",\"to\":\"kW\"}";
    EXPECT_TRUE(contains(refused("[" + good + ",{\"walue\":1}]"),
                         "der Schlüssel „walue“ fehlt im ersten Objekt; führen Sie ihn auch dort auf"));
    // What the library says of the text stays in its words.
    const std::string cut = refused("[" + good + ",\n{\"val");
    EXPECT_TRUE(cut.starts_with("Standardeingabe, Zeile 2, Spalte 6: syntax error")) << cut;
    EXPECT_TRUE(cut.ends_with("; vielleicht ist die Datei abgeschnitten\n")) << cut;
    const std::string broken = refused(good + "\n{\"value\":}\n");
    EXPECT_TRUE(contains(broken, "Zeile 2: UNIT.CONVERT: diese Zeile ist kein JSON, Spalte 10: ")) << broken;
}

TEST(Language, WrongUseSpeaksIt) {
    const auto refused = [](std::vector<std::string> words) {
        const Answer answer = in_german(std::move(words));
        EXPECT_EQ(answer.code, wrong_use);
        EXPECT_EQ(answer.out, "");
        EXPECT_EQ(lines(answer.error), 1u) << answer.error;
        return answer.error;
    };
    EXPECT_TRUE(contains(refused({}), "es fehlt ein Befehl"));
    EXPECT_TRUE(contains(refused({"nonsense"}), "es gibt keinen Befehl „nonsense“"));
    EXPECT_TRUE(contains(refused({"show"}), "NAME fehlt; siehe pullsheet show --help"));
    EXPECT_TRUE(contains(refused({"verify", "--csv", "--json"}), "schließen einander aus"));
    EXPECT_TRUE(contains(refused({"verify", "--digits", "99"}), "keine Ziffernzahl"));
    EXPECT_TRUE(contains(refused({"verify", "--digits"}), "--digits braucht einen Wert"));
    EXPECT_TRUE(contains(refused({"eval", "UNIT.CONVERT", "1", "--jsn"}), "es gibt keine Option --jsn"));
    EXPECT_TRUE(
        contains(refused({"show", "AIR.DENSITY", "AIR.HUMIDITY"}), "hier nicht erwartet: AIR.HUMIDITY"));
}

TEST(Language, WrongUseHasASentenceInEnglishToo) {
    EXPECT_EQ(pullsheet({}).error, "a command is missing; see pullsheet --help\n");
    EXPECT_EQ(pullsheet({"show"}).error, "NAME is missing; see pullsheet show --help\n");
    EXPECT_EQ(pullsheet({"verify", "--digits", "x"}).error,
              "--digits: \"x\" is not a number of digits from 1 to 17\n");
}

TEST(Language, HelpSpeaksIt) {
    const Answer help = in_german({"--help"});
    EXPECT_EQ(help.code, done);
    for (const auto part :
         {"Aufruf: pullsheet", "Befehle:", "Optionen:", "die Funktionen auflisten", "diese Hilfe zeigen"})
        EXPECT_TRUE(contains(help.out, part)) << part << "\n" << help.out;
    const Answer batch = in_german({"batch", "--help"});
    EXPECT_TRUE(contains(batch.out, "einen Aufruf je Zeile")) << batch.out;
    EXPECT_FALSE(contains(batch.out, "REQUIRED")) << batch.out;
}

TEST(Language, DataIsTheSame) {
    const std::vector<std::vector<std::string>> calls = {
        {"eval", "PULL.GAIN", "@-", "@-", "--csv"},
        {"verify", "AIR", "--csv"},
        {"verify", "AIR", "--json"},
        {"eval", "FUNCTION.LIST", "--csv"},
        {"eval", "ENGINE.POWER", "350", "5500"},
        {"eval", "ENGINE.POWER", "350", "5500", "--json"},
        {"eval", "FUNCTION.SOURCE", "DYNO.CRANK.POWER"},
    };
    for (const auto& call : calls) {
        const std::string input = "1\n2\n3\n4\n";
        const Answer english = pullsheet(call, input);
        const Answer german = in_german(call, input);
        EXPECT_EQ(english.out, german.out) << call[1];
        EXPECT_NE(english.out, "") << call[1];
        EXPECT_EQ(english.code, german.code) << call[1];
    }
    const std::string rows = "value,from,to\n750,PS,kW\n1,hp,kW\n";
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", "-"}, rows).out,
              in_german({"batch", "UNIT.CONVERT", "-"}, rows).out);
}

TEST(Language, HeadingsForPeopleSpeakIt) {
    const Answer answer = in_german({"verify", "AIR"});
    EXPECT_TRUE(answer.out.starts_with("Funktion")) << answer.out.substr(0, 200);
    EXPECT_TRUE(contains(answer.out, "in Ordnung"));
    EXPECT_TRUE(contains(answer.error, "Prüfwerten stimmen überein"));
}

TEST(Language, TheOptionMayStandAnywhere) {
    for (const std::vector<std::string>& words :
         {std::vector<std::string>{"--language", "de", "list", "UNIT"},
          {"list", "--language=de", "UNIT"},
          {"list", "UNIT", "--language", "de"}})
        EXPECT_TRUE(contains(pullsheet(words).out, "in einer anderen Einheit"));
    const Answer literal =
        pullsheet({"eval", "FUNCTION.ERROR", "--", "UNIT.CONVERT", "1", "--language", "de"});
    EXPECT_TRUE(contains(literal.out, "the unit \"--language\" is not known"))
        << literal.out << literal.error;
}

TEST(Language, AnotherLanguageIsRefused) {
    for (const std::vector<std::string>& words : {std::vector<std::string>{"--language", "fr", "list"},
                                                  {"list", "--language="},
                                                  {"list", "--language"}}) {
        const Answer answer = pullsheet(words);
        EXPECT_EQ(answer.code, wrong_use);
        EXPECT_TRUE(contains(answer.error, "en or de")) << answer.error;
    }
}

}  // namespace
}  // namespace pullsheet::harness::test
