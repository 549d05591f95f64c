#pragma once

namespace valveladder {

/// What Windows said last to this thread, as an errno.
[[nodiscard]] int lastErrno();

} // namespace valveladder
