#include "Screen/Snapshot.h"

#include <cstdlib>

namespace valveladder::pictures {

juce::Image render(juce::Component& component, float scale) {
    return component.createComponentSnapshot(component.getLocalBounds(), true, scale);
}

juce::File folder() {
    const juce::File place(VALVE_LADDER_PICTURES);
    place.createDirectory();
    return place;
}

void save(const juce::Image& image, const std::string& name) {
    const juce::File file = folder().getChildFile(name + ".png");
    file.deleteFile();
    juce::FileOutputStream stream(file);
    juce::PNGImageFormat().writeImageToStream(image, stream);
}

Difference difference(const juce::Image& a, const juce::Image& b) {
    Difference result;
    result.sameSize = a.getBounds() == b.getBounds();
    if (!result.sameSize)
        return result;
    const juce::Image::BitmapData left(a, juce::Image::BitmapData::readOnly);
    const juce::Image::BitmapData right(b, juce::Image::BitmapData::readOnly);
    double sum = 0.0;
    double far = 0.0;
    for (int y = 0; y < a.getHeight(); ++y)
        for (int x = 0; x < a.getWidth(); ++x) {
            const auto p = left.getPixelColour(x, y);
            const auto q = right.getPixelColour(x, y);
            const int step =
                juce::jmax(std::abs(p.getRed() - q.getRed()), std::abs(p.getGreen() - q.getGreen()),
                           std::abs(p.getBlue() - q.getBlue()));
            sum += step;
            far += step > farStep ? 1.0 : 0.0;
        }
    const double pixels = static_cast<double>(a.getWidth()) * a.getHeight();
    result.meanStep = sum / pixels;
    result.farShare = far / pixels;
    return result;
}

} // namespace valveladder::pictures
