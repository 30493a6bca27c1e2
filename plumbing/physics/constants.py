"""Constants of nature and agreement, SI."""

GRAVITY = 9.80665  # [m/s2], standard gravity by definition (CGPM 1901)
ATMOSPHERE = 101325.0  # [Pa], standard atmosphere by definition (CGPM 1954)
ZERO_CELSIUS = 273.15  # [K], ice point on the Kelvin scale by definition
INCH = 0.0254  # [m], by definition
MM2_PER_S = 1e-6  # [m2/s], one centistokes
