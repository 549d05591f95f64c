#include "Screen/ExportView.h"

#include "Screen/Documents.h"
#include "Screen/SvgContext.h"
#include "View/Words.h"

#include <utility>

namespace valveladder {

namespace {

constexpr float pictureScale = 2.0F;

Problem cannotWrite(const juce::File& file) {
    return {words::pictureNotWritten, file.getFullPathName().toStdString(), words::otherRoomyFolder};
}

} // namespace

juce::Image pictureOf(juce::Component& view) {
    return view.createComponentSnapshot(view.getLocalBounds(), true, pictureScale);
}

juce::String svgOf(juce::Component& view) {
    SvgContext context(view.getWidth(), view.getHeight());
    juce::Graphics g(context);
    view.paintEntireComponent(g, true);
    return context.document();
}

namespace {

/// Everything of the view, so that it may be written anywhere.
struct Drawn {
    juce::Image picture; ///< of a PNG
    juce::String shapes; ///< of an SVG
};

Result<Drawn> drawnFor(juce::Component& view, const juce::File& file) {
    if (file.hasFileExtension("svg"))
        return Drawn{{}, svgOf(view)};
    if (file.hasFileExtension("png"))
        return Drawn{pictureOf(view), {}};
    return Problem{words::pictureEnding, file.getFullPathName().toStdString(), words::chooseEnding};
}

Result<Done> writeDrawn(const Drawn& drawn, const juce::File& file, const std::stop_token& stop) {
    juce::MemoryOutputStream bytes;
    if (drawn.picture.isValid())
        juce::PNGImageFormat().writeImageToStream(drawn.picture, bytes);
    else
        bytes << drawn.shapes;
    if (stop.stop_requested())
        return Problem{words::exportStopped, "", "", Problem::Kind::stopped};
    if (bytes.getDataSize() == 0 || !file.replaceWithData(bytes.getData(), bytes.getDataSize()))
        return cannotWrite(file);
    return Done{};
}

} // namespace

Result<Done> exportView(juce::Component& view, const juce::File& file) {
    const auto drawn = drawnFor(view, file);
    if (!drawn)
        return drawn.problem();
    return writeDrawn(drawn.value(), file, {});
}

PictureWriter::~PictureWriter() {
    thread.request_stop();
}

void PictureWriter::choose(std::function<juce::Component&()> view) {
    const auto folder = documentsFolder();
    chooser = std::make_unique<juce::FileChooser>(words::exportTitle, folder.getChildFile(words::pictureFile),
                                                  "*.png;*.svg");
    chooser->launchAsync(
        juce::FileBrowserComponent::saveMode | juce::FileBrowserComponent::warnAboutOverwriting,
        [this, view = std::move(view)](const juce::FileChooser& chosen) {
            const juce::File file = chosen.getResult();
            if (file != juce::File())
                start(view(), file.getFileExtension().isEmpty() ? file.withFileExtension("png") : file);
        });
}

void PictureWriter::start(juce::Component& view, const juce::File& file) {
    auto drawn = drawnFor(view, file);
    if (!drawn) {
        const std::lock_guard lock(mutex);
        outcome = drawn.problem();
        return;
    }
    if (thread.joinable())
        thread.join();
    running = true;
    thread = std::jthread([this, picture = std::move(drawn.value()), file](const std::stop_token& stop) {
        auto written = writeDrawn(picture, file, stop);
        const std::lock_guard lock(mutex);
        outcome = std::move(written);
        running = false;
    });
}

std::optional<Result<Done>> PictureWriter::finished() {
    const std::lock_guard lock(mutex);
    return std::exchange(outcome, std::nullopt);
}

WorkProgress PictureWriter::progress() {
    return {words::writingPicture, [this] { return running.load(); },
            [] { return std::optional<double>(); }, // an encoder does not say how far it is
            [this] { thread.request_stop(); }};
}

} // namespace valveladder
