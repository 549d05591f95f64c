#pragma once

#include "Base/Problem.h"
#include "View/WorkProgress.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <atomic>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <thread>

namespace valveladder {

/// The view as it stands, as a picture of twice its pixels.
[[nodiscard]] juce::Image pictureOf(juce::Component& view);
/// The view as SVG: every shape and letter a path.
[[nodiscard]] juce::String svgOf(juce::Component& view);
/// Writes PNG or SVG, as the file's ending says; refused for any other.
[[nodiscard]] Result<Done> exportView(juce::Component& view, const juce::File& file);

/// Exports without holding the window up: the view is drawn at once, and packed and written on a thread of
/// its own. Stopped, nothing is written. [message]
class PictureWriter {
public:
    ~PictureWriter();

    /// Asks the player for a file, and writes into it what `view` says then.
    void choose(std::function<juce::Component&()> view);
    /// One after the other: a picture that is still being written is finished first.
    void start(juce::Component& view, const juce::File& file);
    /// What became of the last one, once.
    [[nodiscard]] std::optional<Result<Done>> finished();
    [[nodiscard]] WorkProgress progress();

private:
    std::unique_ptr<juce::FileChooser> chooser;
    std::mutex mutex;
    std::optional<Result<Done>> outcome;
    std::atomic<bool> running{false};
    std::jthread thread; ///< last: it uses all above
};

} // namespace valveladder
