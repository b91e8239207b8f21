//! Places on the ellipsoid: geodesics, UTM, MGRS, convergence.
