#version 330 core
// Plaster or picture, with the giornate's state colours and patterns over it.
uniform bool flat_view;
uniform bool has_picture;
uniform sampler2D picture;
uniform usampler2D labels;       // see editor/view/label_map.h
uniform vec4 label_window;       // chart m: left, bottom, width, height
uniform vec3 state_colours[6];   // by label state; 0 is the rest
uniform float fill;              // how much of the state colour covers the picture, 0..1
uniform float pattern_m;         // chart m between two marks of a pattern
in vec2 v_chart;
in vec2 v_picture;
in vec3 v_facing;
in vec3 v_to_eye;
out vec4 colour;

const vec3 kPlaster = vec3(0.871, 0.843, 0.784);

// Coverage of lines one third of the period wide across coordinate x (in periods), softened by its own width on screen.
float stripe(float x, float width) {
  float soft = max(fwidth(x), 1e-6);
  float distance_to_line = abs(fract(x) - 0.5);
  return 1.0 - smoothstep(width - soft, width + soft, distance_to_line);
}

float pattern(uint state) {
  vec2 p = v_chart / pattern_m;
  if (state == 2u) {  // ready: dots
    vec2 cell = fract(p) - 0.5;
    float soft = max(fwidth(p.x), fwidth(p.y));
    return 1.0 - smoothstep(0.16 - soft, 0.16 + soft, length(cell));
  }
  if (state == 4u) return stripe(p.x + p.y, 0.07);  // done: fine hatch
  if (state == 5u) return max(stripe(p.x + p.y, 0.08), stripe(p.x - p.y, 0.08));  // to redo: cross-hatch
  return 0.0;
}

void main() {
  vec3 base = kPlaster;
  bool inside = all(greaterThanEqual(v_picture, vec2(0.0))) && all(lessThanEqual(v_picture, vec2(1.0)));
  vec3 pixel = texture(picture, v_picture).rgb;
  if (has_picture && inside) base = pixel;
  uint label = texture(labels, (v_chart - label_window.xy) / label_window.zw).r;
  uint state = label & 7u;
  bool chosen = (label & 8u) != 0u;
  if (state > 0u) {
    vec3 tint = state_colours[state];
    base = mix(base, tint, chosen ? min(fill + 0.2, 0.85) : fill);
    vec3 mark = dot(tint, vec3(0.299, 0.587, 0.114)) > 0.5 ? vec3(0.08) : vec3(1.0);
    base = mix(base, mark, 0.55 * pattern(state));
  }
  if (!flat_view) {
    if (!gl_FrontFacing) {  // seen from behind: a hint of the wall, nothing to read
      colour = vec4(0.45, 0.43, 0.40, 0.10);
      return;
    }
    float facing = dot(normalize(v_facing), normalize(v_to_eye));
    base *= 0.72 + 0.28 * max(facing, 0.0);
  }
  colour = vec4(base, 1.0);
}
