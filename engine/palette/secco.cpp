#include "engine/palette/secco.h"

namespace pontata {

Date earliest_secco(Date painted, int days) { return add_days(painted, days); }

}  // namespace pontata
