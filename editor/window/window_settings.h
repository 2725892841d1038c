// What the window remembers between runs, in the XDG config folder: scale, size and where the dividers stand.
#pragma once

#include <string>

namespace pontata {

struct WindowSettings {
  double scale = 0;  // 1 to 3; 0 follows the monitor
  int width = 1440, height = 900;
  double left = 210, right = 250, page = 330, bottom = 112;  // px at 100 %
  double wide_page = 450;                                    // of the pages that need more room
  double split = 0.5;                                        // share of the first view
  double picture = 0.5;                                      // share of the picture itself beside the views
  std::string folder;                                        // last used in the file browser
};

WindowSettings read_window_settings();                // defaults where there is none or it is broken
void write_window_settings(const WindowSettings& s);  // quietly gives up where it cannot

}  // namespace pontata
