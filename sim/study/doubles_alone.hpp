// How statistics are worked out: Boost.Math would go over to long double, which is not the same on every
// machine, nor under tools that run a program instruction by instruction.
#pragma once

#include <boost/math/policies/policy.hpp>

namespace bowrise {

using DoublesAlone = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

}  // namespace bowrise
