#include "editor/view/offscreen.h"

#include <epoxy/egl.h>

namespace pontata {
namespace {

constexpr EGLint kAttributes[] = {
    EGL_CONTEXT_MAJOR_VERSION,           3,       EGL_CONTEXT_MINOR_VERSION, 3, EGL_CONTEXT_OPENGL_PROFILE_MASK,
    EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT, EGL_NONE};

bool usable(EGLDisplay display) { return display != EGL_NO_DISPLAY && eglInitialize(display, nullptr, nullptr); }

// The first graphics device of a driver that knows devices by number.
EGLDisplay open_device() {
  if (!epoxy_has_egl_extension(EGL_NO_DISPLAY, "EGL_EXT_device_enumeration") ||
      !epoxy_has_egl_extension(EGL_NO_DISPLAY, "EGL_EXT_platform_device"))
    return EGL_NO_DISPLAY;
  EGLDeviceEXT device = nullptr;
  EGLint count = 0;
  if (!eglQueryDevicesEXT(1, &device, &count) || count < 1) return EGL_NO_DISPLAY;
  return eglGetPlatformDisplayEXT(EGL_PLATFORM_DEVICE_EXT, device, nullptr);
}

// The surfaceless platform needs neither display server nor device file; a device by number and the default display
// are the next choices.
EGLDisplay open_display() {
  if (epoxy_has_egl_extension(EGL_NO_DISPLAY, "EGL_MESA_platform_surfaceless") &&
      epoxy_has_egl_extension(EGL_NO_DISPLAY, "EGL_EXT_platform_base")) {
    EGLDisplay display = eglGetPlatformDisplayEXT(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, nullptr);
    if (usable(display)) return display;
  }
  if (EGLDisplay display = open_device(); usable(display)) return display;
  EGLDisplay display = eglGetDisplay(EGL_DEFAULT_DISPLAY);
  return usable(display) ? display : EGL_NO_DISPLAY;
}

Problem no_drawing() {
  return {"no picture can be drawn on this computer: OpenGL 3.3 without a display is not available", "",
          "Install the packages libegl1, libegl-mesa0 and libgl1-mesa-dri."};
}

}  // namespace

Result<std::unique_ptr<OffscreenContext>> OffscreenContext::make() {
  EGLDisplay display = open_display();
  if (display == EGL_NO_DISPLAY || !eglBindAPI(EGL_OPENGL_API)) return no_drawing();
  constexpr EGLint kWanted[] = {EGL_RENDERABLE_TYPE, EGL_OPENGL_BIT, EGL_NONE};
  EGLConfig config = nullptr;
  EGLint count = 0;
  eglChooseConfig(display, kWanted, &config, 1, &count);
  EGLContext context = eglCreateContext(display, count > 0 ? config : nullptr, EGL_NO_CONTEXT, kAttributes);
  if (context == EGL_NO_CONTEXT || !eglMakeCurrent(display, EGL_NO_SURFACE, EGL_NO_SURFACE, context)) {
    if (context != EGL_NO_CONTEXT) eglDestroyContext(display, context);
    eglTerminate(display);
    return no_drawing();
  }
  std::unique_ptr<OffscreenContext> made(new OffscreenContext);
  made->display_ = display;
  made->context_ = context;
  return made;
}

OffscreenContext::~OffscreenContext() {
  eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
  eglDestroyContext(display_, context_);
  eglTerminate(display_);
}

}  // namespace pontata
