#pragma once

#include "Records/EnumNames.h"
#include "Records/Fields.h"
#include "Records/TextList.h"

#include <SQLiteCpp/SQLiteCpp.h>

#include <array>
#include <cctype>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

namespace valveladder {

/// A value in the file that no version of ours writes.
struct UnreadableRow : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// "deviationMs" to "deviation_ms".
[[nodiscard]] inline std::string columnName(const std::string& field) {
    std::string column;
    for (const char c : field) {
        if (std::isupper(static_cast<unsigned char>(c)))
            column += '_';
        column += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    }
    return column;
}

// A figure that is not finite has no meaning in a log: it is kept as absent or, where it cannot be absent, 0.
[[nodiscard]] inline double finiteOrZero(double value) {
    return std::isfinite(value) ? value : 0.0;
}

/// One figure for each valve.
using PerValve = std::array<std::optional<double>, maxValves>;

/// Collects column names from a field list. An Estimate takes four columns, x, x_low, x_high, x_n; figures by
/// valve x_1 to x_4; a Change x_from and x_to.
class SqlColumns {
public:
    template <typename T>
    void operator()(const char* field, const T&) {
        names.push_back(columnName(field));
    }
    void operator()(const char* field, const std::optional<Estimate>&) {
        for (const char* part : {"", "_low", "_high", "_n"})
            names.push_back(columnName(field) + part);
    }
    void operator()(const char* field, const Change&) {
        for (const char* part : {"_from", "_to"})
            names.push_back(columnName(field) + part);
    }

    void operator()(const char* field, const PerValve&) {
        for (int valve = 1; valve <= maxValves; ++valve)
            names.push_back(columnName(field) + "_" + std::to_string(valve));
    }

    std::vector<std::string> names;
};

/// Binds a field list to consecutive parameters of a statement.
class SqlBind {
public:
    explicit SqlBind(SQLite::Statement& target, int first = 1) : statement(target), next(first) {}

    void operator()(const char*, bool value) { statement.bind(next++, value ? 1 : 0); }
    void operator()(const char*, int value) { statement.bind(next++, value); }
    void operator()(const char*, std::int64_t value) { statement.bind(next++, value); }
    void operator()(const char*, double value) { statement.bind(next++, finiteOrZero(value)); }
    void operator()(const char*, const std::string& value) { statement.bind(next++, value); }
    template <typename E>
    requires std::is_enum_v<E>
    void operator()(const char*, E value) { statement.bind(next++, std::string(enumName(value))); }
    void operator()(const char*, Combination value) { statement.bind(next++, value.name()); }
    void operator()(const char*, const std::vector<std::string>& value) {
        statement.bind(next++, listToText(value));
    }
    void operator()(const char*, const std::optional<double>& value) {
        if (value && std::isfinite(*value))
            statement.bind(next++, *value);
        else
            statement.bind(next++);
    }
    void operator()(const char*, const std::optional<Estimate>& value) {
        if (value)
            fields(*this, *value);
        else
            for (int i = 0; i < 4; ++i)
                statement.bind(next++);
    }
    void operator()(const char*, const Change& value) { fields(*this, value); }
    void operator()(const char* field, const PerValve& values) {
        for (const auto& value : values)
            (*this)(field, value);
    }

private:
    SQLite::Statement& statement;
    int next;
};

/// Reads a field list from consecutive columns of a row.
class SqlRead {
public:
    explicit SqlRead(const SQLite::Statement& source, int first = 0) : row(source), next(first) {}

    void operator()(const char*, bool& value) { value = row.getColumn(next++).getInt() != 0; }
    void operator()(const char*, int& value) { value = row.getColumn(next++).getInt(); }
    void operator()(const char*, std::int64_t& value) { value = row.getColumn(next++).getInt64(); }
    void operator()(const char*, double& value) { value = row.getColumn(next++).getDouble(); }
    void operator()(const char*, std::string& value) { value = text(); }
    template <typename E>
    requires std::is_enum_v<E>
    void operator()(const char*, E& value) {
        const auto parsed = parseEnum<E>(row.getColumn(next).getText());
        if (!parsed)
            throw UnreadableRow(row.getColumnName(next));
        ++next;
        value = *parsed;
    }
    void operator()(const char*, Combination& value) {
        const auto parsed = Combination::parse(row.getColumn(next).getText());
        if (!parsed)
            throw UnreadableRow(row.getColumnName(next));
        ++next;
        value = *parsed;
    }
    void operator()(const char*, std::vector<std::string>& value) {
        auto list = listFromText(text());
        if (!list)
            throw UnreadableRow("a list of words");
        value = std::move(*list);
    }
    void operator()(const char*, std::optional<double>& value) {
        const SQLite::Column column = row.getColumn(next++);
        if (column.isNull())
            value.reset();
        else
            value = column.getDouble();
    }
    void operator()(const char*, std::optional<Estimate>& value) {
        if (row.getColumn(next).isNull()) {
            value.reset();
            next += 4;
        } else {
            fields(*this, value.emplace());
        }
    }
    void operator()(const char*, Change& value) { fields(*this, value); }
    void operator()(const char* field, PerValve& values) {
        for (auto& value : values)
            (*this)(field, value);
    }

private:
    std::string text() { return row.getColumn(next++).getString(); }

    const SQLite::Statement& row;
    int next;
};

} // namespace valveladder
