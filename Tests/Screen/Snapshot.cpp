#include "Screen/Snapshot.h"

#include <cstdlib>
#include <gtest/gtest.h>

namespace valveladder::pictures {

namespace {

/// What a picture may differ from its reference: renderers of other versions smooth edges otherwise.
constexpr double mostMeanStep = 1.0;
constexpr double mostFarShare = 0.004;

bool writing() {
    return std::getenv("VALVE_LADDER_WRITE_REFERENCES") != nullptr;
}

void write(const juce::Image& image, const juce::File& file) {
    file.getParentDirectory().createDirectory();
    juce::MemoryOutputStream bytes;
    juce::PNGImageFormat().writeImageToStream(image, bytes);
    ASSERT_TRUE(file.replaceWithData(bytes.getData(), bytes.getDataSize()));
}

} // namespace

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

void writeForReadme(const juce::Image& image, const std::string& name) {
    if (writing())
        write(image, juce::File(VALVE_LADDER_README_PICTURES).getChildFile(name + ".png"));
}

void compareWithReference(const juce::Image& image, const std::string& name) {
    const juce::File reference = juce::File(VALVE_LADDER_REFERENCES).getChildFile(name + ".png");
    if (writing())
        write(image, reference);
    const juce::Image kept = juce::ImageFileFormat::loadFrom(reference);
    ASSERT_TRUE(kept.isValid()) << "there is no reference picture " << reference.getFullPathName();
    const auto found = difference(image, kept);
    ASSERT_TRUE(found.sameSize) << name;
    EXPECT_LT(found.meanStep, mostMeanStep) << name;
    EXPECT_LT(found.farShare, mostFarShare) << name;
}

} // namespace valveladder::pictures
