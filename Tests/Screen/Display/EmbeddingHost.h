#pragma once

#include <memory>
#include <string>

namespace valveladder::display {

/// A host's window, made over a connection of its own, as another program's would be.
class EmbeddingHost {
public:
    EmbeddingHost();
    ~EmbeddingHost();

    /// To be embedded in: a child of the host's top window.
    [[nodiscard]] void* window() const;
    /// The oldest key that was pressed in the host and not yet asked for, as X11 names it, "Control z"; empty
    /// = none came.
    [[nodiscard]] std::string nextKey();

private:
    struct Connection;
    std::unique_ptr<Connection> connection;
};

} // namespace valveladder::display
