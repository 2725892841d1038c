#version 330 core
// The painted side: plaster or picture, with the giornate's state colours and patterns over it. PICTURE, LABELS and
// PATTERNS are defined where the wall has such; software OpenGL pays for every line here, taken or not.
uniform float quiet;             // 0: full strength; 1: as pale as the ground
in vec2 v_chart;
out vec4 colour;

const vec3 kPlaster = vec3(0.871, 0.843, 0.784);
const vec3 kGround = vec3(0.878, 0.863, 0.827);   // as behind the walls

#ifdef PICTURE
uniform sampler2D picture;
uniform vec4 picture_from_chart;   // texture coordinates: chart times xy, plus zw
#endif
#ifdef DETAIL
uniform sampler2D detail;          // the part of the picture in view, finer
uniform vec4 detail_window;        // as label_window
#endif
#ifdef LABELS
uniform usampler2D labels;       // see editor/view/label_map.h
uniform vec4 label_window;       // chart m: left, bottom; then 1 / width, 1 / height
uniform vec4 label_looks[16];    // by label: state colour, and how much of it covers what lies beneath
#endif
#ifndef FLAT
uniform vec3 ray_corner, ray_per_x, ray_per_y;   // line of sight through pixel (0, 0), and its change per pixel
in vec3 v_facing;
#endif

#ifdef PATTERNS
uniform float pattern_per_m;     // marks of a pattern in 1 m of the chart
uniform sampler2D patterns;      // one period: dots in red, hatch in green, cross-hatch in blue
uniform vec3 label_pattern[16];  // by label: which of them
#endif

void main() {
  vec3 base = kPlaster;
#ifdef PICTURE
  vec4 pixel = texture(picture, v_chart * picture_from_chart.xy + picture_from_chart.zw);
#ifdef DETAIL
  vec2 within = (v_chart - detail_window.xy) * detail_window.zw;
  vec4 fine = texture(detail, within);
  if (within == clamp(within, 0.0, 1.0)) pixel = fine;
#endif
  base = pixel.rgb + (1.0 - pixel.a) * kPlaster;   // colours are multiplied by opacity
#endif
#ifdef LABELS
  uint label = texture(labels, (v_chart - label_window.xy) * label_window.zw).r;
  vec4 look = label_looks[label & 15u];
  base = mix(base, look.rgb, look.a);
#ifdef PATTERNS
  float mark = dot(look.rgb, vec3(0.299, 0.587, 0.114)) > 0.5 ? 0.08 : 1.0;
  base = mix(base, vec3(mark), 0.55 * dot(texture(patterns, v_chart * pattern_per_m).rgb, label_pattern[label & 15u]));
#endif
#endif
#ifndef FLAT
  vec3 ray = ray_corner + gl_FragCoord.x * ray_per_x + gl_FragCoord.y * ray_per_y;
  float facing = -dot(v_facing, ray) * inversesqrt(dot(v_facing, v_facing) * dot(ray, ray));
  base *= 0.72 + 0.28 * max(facing, 0.0);
#endif
  colour = vec4(mix(base, kGround, quiet), 1.0);
}
