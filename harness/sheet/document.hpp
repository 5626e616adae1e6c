// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <com/sun/star/sheet/XSpreadsheet.hpp>
#include <com/sun/star/sheet/XSpreadsheetDocument.hpp>
#include <com/sun/star/table/XCellRange.hpp>
#include <com/sun/star/uno/XComponentContext.hpp>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/catalogue/sentences.hpp"
#include "core/catalogue/value.hpp"
#include "harness/sheet/sheet_table.hpp"

namespace pullsheet::harness {

/// A cell that shows an error.
struct ErrorCell {
    std::string address;   ///< "Inputs.B5"
    std::string code;      ///< as the cell shows it, "Err:502"
    std::string sentence;  ///< why, in one sentence
};

/// A sheet document in the office. The file itself is never written.
class Document {
  public:
    using Context = com::sun::star::uno::Reference<com::sun::star::uno::XComponentContext>;
    using Cells = com::sun::star::uno::Reference<com::sun::star::table::XCellRange>;

    /// Opens the file. Throws FileNotReadable. Sentences, here and below, are in `language`.
    Document(Context context, const std::string& path, catalogue::Language language);
    ~Document();
    Document(const Document&) = delete;
    Document& operator=(const Document&) = delete;

    /// "NAME=VALUE": puts a number, a date ("2026-05-01") or a text into an input cell. Throws WrongUse for a
    /// name that is not known, for several cells, and for a cell with a formula.
    void set(const std::string& assignment);
    /// Computes every cell anew.
    void compute();
    /// True if no cell of any sheet holds anything.
    bool is_empty() const;
    /// The named range, database range or address. Throws WrongUse.
    Cells cells(const std::string& name) const;
    /// The used cells of the sheet of that name; of the first one if it is empty. Throws WrongUse.
    Cells used_cells(const std::string& sheet) const;
    SheetTable table(const Cells& cells) const;
    /// All cells that show an error; the reasons of the first `explained`.
    std::vector<ErrorCell> errors(std::size_t explained) const;
    /// What the cell all_checks_agree says; nothing if there is none. `shown` is its text.
    std::optional<bool> checks_agree(std::string& shown) const;
    /// Writes a PDF: the document, or what is printed of the sheet of that name. Throws FileNotReadable.
    void write_pdf(const std::string& path, const std::string& sheet) const;
    /// The checks that say no, in words.
    std::vector<std::string> failed_checks() const;
    /// Writes the customer copy of the sheet of that name, else of the pages marked for the customer, and
    /// returns the files; `refusal` says why there are none.
    std::vector<std::string> customer_copy(const std::string& sheet, bool despite_checks,
                                           std::string& refusal) const;
    /// Writes a copy in the format that the name's ending says. Throws WrongUse and FileNotReadable.
    void save(const std::string& path) const;

  private:
    bool name_functions();
    bool name_functions(const com::sun::star::uno::Reference<com::sun::star::sheet::XSpreadsheet>& sheet,
                        sal_Int32 column, sal_Int32 row);

    struct Parts;
    std::unique_ptr<Parts> parts_;
    std::string path_;
    catalogue::Language language_;
};

/// Throws WrongUse for a file that does not end as a sheet does that is written.
void refuse_other_endings(const std::string& path, catalogue::Language language);

/// The two halves of NAME=VALUE; throws WrongUse where there is no "=".
std::pair<std::string, std::string> name_and_value(const std::string& assignment,
                                                   catalogue::Language language);

}  // namespace pullsheet::harness
