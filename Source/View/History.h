#pragma once

#include <optional>
#include <vector>

namespace valveladder {

/// What was, and what was taken back: undo and redo over values.
template <typename Value>
class History {
public:
    static constexpr std::size_t most = 200;

    /// The value changes from `before` to something new; what was taken back before is forgotten.
    void changed(Value before) {
        past.push_back(std::move(before));
        if (past.size() > most)
            past.erase(past.begin());
        future.clear();
    }
    [[nodiscard]] bool canUndo() const { return !past.empty(); }
    [[nodiscard]] bool canRedo() const { return !future.empty(); }
    /// What a step would lead to, nullptr when there is none.
    [[nodiscard]] const Value* next(bool forward) const {
        const std::vector<Value>& from = forward ? future : past;
        return from.empty() ? nullptr : &from.back();
    }
    /// The value to go back to, nothing when there is none. `now` is what is left behind.
    std::optional<Value> undo(Value now) { return step(past, future, std::move(now)); }
    std::optional<Value> redo(Value now) { return step(future, past, std::move(now)); }

private:
    static std::optional<Value> step(std::vector<Value>& from, std::vector<Value>& to, Value now) {
        if (from.empty())
            return std::nullopt;
        to.push_back(std::move(now));
        std::optional<Value> value = std::move(from.back());
        from.pop_back();
        return value;
    }

    std::vector<Value> past, future;
};

} // namespace valveladder
