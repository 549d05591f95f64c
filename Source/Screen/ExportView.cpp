#include "Screen/ExportView.h"

#include "Screen/SvgContext.h"

namespace valveladder {

namespace {

constexpr float pictureScale = 2.0F;

Problem cannotWrite(const juce::File& file) {
    return {"the picture could not be written", file.getFullPathName().toStdString(),
            "choose a folder that you may write to and that has room"};
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

Result<Done> exportView(juce::Component& view, const juce::File& file) {
    if (file.hasFileExtension("svg"))
        return file.replaceWithText(svgOf(view)) ? Result<Done>(Done{}) : Result<Done>(cannotWrite(file));
    if (!file.hasFileExtension("png"))
        return Problem{"a picture ends in .png or .svg", file.getFullPathName().toStdString(),
                       "choose one of the two"};
    juce::MemoryOutputStream bytes;
    if (!juce::PNGImageFormat().writeImageToStream(pictureOf(view), bytes) ||
        !file.replaceWithData(bytes.getData(), bytes.getDataSize()))
        return cannotWrite(file);
    return Done{};
}

} // namespace valveladder
