#include "engine/seams/swap_owners.h"

#include "engine/seams/network_editor.h"

namespace pontata {

Network swapped_owners(const Network& network, GiornataId a, GiornataId b, const EdgeMeter& meter) {
  NetworkEditor editor(network, meter);
  for (const FaceId f : network.faces_of(a)) editor.set_owner(f, b);
  for (const FaceId f : network.faces_of(b)) editor.set_owner(f, a);
  return editor.take();
}

}  // namespace pontata
