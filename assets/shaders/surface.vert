#version 330 core
// The wall's surface. FLAT: drawn at its places in the chart; otherwise as it stands in the building.
uniform mat4 clip_from_place;
layout(location = 0) in vec3 place;
layout(location = 1) in vec3 facing;   // unit, toward the painter
layout(location = 2) in vec2 chart;    // m
out vec2 v_chart;
#ifdef FLAT
void main() {
  v_chart = chart;
  gl_Position = clip_from_place * vec4(chart, 0.0, 1.0);
}
#else
out vec3 v_facing;
void main() {
  v_chart = chart;
  v_facing = facing;
  gl_Position = clip_from_place * vec4(place, 1.0);
}
#endif
