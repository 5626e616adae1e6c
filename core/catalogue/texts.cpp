// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/texts.hpp"

#include <set>

#include "core/catalogue/block.hpp"
#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/checks.hpp"
#include "core/catalogue/parts_table.hpp"
#include "core/catalogue/sentences.hpp"
#include "core/catalogue/sources.hpp"

namespace pullsheet::catalogue {
namespace {

class Collector {
  public:
    std::vector<CatalogueText> take() { return std::move(texts_); }

    void add(std::string_view text, std::string where) {
        if (!text.empty()) texts_.push_back({text, std::move(where)});
    }

    void add(const Function& function) {
        const std::string name(function.name.view());
        add(function.summary, name + ", summary");
        for (const Parameter& parameter : function.parameters)
            add(parameter, name + ", " + std::string(parameter.name));
        add(function.result.meaning, name + ", result");
        add(function.method, name + ", method");
        add(function.symbols, name + ", symbols");
        add(function.accuracy, name + ", accuracy");
    }

    void add(const Parameter& parameter, const std::string& where) {
        add(parameter.meaning, where);
        // The default of an omitted unit is a unit itself.
        if (parameter.kind != Kind::unit) add(parameter.default_text, where + ", if omitted");
        if (parameter.schema && schemas_.insert(parameter.schema).second)
            for (const Label& label : parameter.schema->labels)
                add(label.meaning,
                    std::string(parameter.schema->name.view()) + " block, " + std::string(label.name));
    }

    // The sentences of an enumeration, up to its end.
    template <class Kind>
    void add_sentences(const std::string& where) {
        for (int i = 0; !english(static_cast<Kind>(i)).empty(); ++i)
            add(english(static_cast<Kind>(i)), where);
    }

  private:
    std::vector<CatalogueText> texts_;
    std::set<const BlockSchema*> schemas_;
};

}  // namespace

std::vector<CatalogueText> texts() {
    Collector collector;
    for (const Function& function : functions()) collector.add(function);
    for (const PartKind& kind : part_kinds()) {
        collector.add(kind.meaning, "parts table, " + std::string(kind.name));
    }
    for (int i = 0; i <= static_cast<int>(Quantity::mass_per_volume_and_cycle); ++i)
        collector.add(quantity_name(static_cast<Quantity>(i)), "name of a quantity");
    collector.add_sentences<Phrase>("phrase");
    collector.add_sentences<Reason>("reason of an error or a warning");
    // The other citations are the titles of books and standards.
    for (const std::string_view key : {"Pullsheet", "common practice"})
        collector.add(citation(key), "source");
    for (const Check& check : checks()) collector.add(check.note, "note beside a check value");
    return collector.take();
}

}  // namespace pullsheet::catalogue
