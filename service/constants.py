"""Numbers that belong to nature or to a definition, each with its source on its line."""

STANDARD_GRAVITY_M_S2 = 9.80665  # exact, CGPM 1901
GAS_CONSTANT_J_MOL_K = 8.314462618  # exact to the digits given, SI 2019
ZERO_CELSIUS_K = 273.15  # exact, SI
STANDARD_PRESSURE_PA = 101_325.0  # exact, ISO 2533
STANDARD_TEMPERATURE_K = 288.15  # ISO 2533
LAPSE_RATE_K_M = 0.0065  # ISO 2533, troposphere
DRY_AIR_GAS_CONSTANT_J_KG_K = 287.05287  # ISO 2533
AIR_HEAT_CAPACITY_J_KG_K = 1006.0  # dry air near 0 °C, textbook value from memory
VAPOUR_HEAT_CAPACITY_J_KG_K = 1860.0  # ASHRAE Fundamentals 2017, psychrometrics chapter
EVAPORATION_HEAT_J_KG = 2.501e6  # water at 0 °C, ASHRAE Fundamentals 2017

US_REFERENCE_K = 293.15  # 40 CFR 1066.305: 20 °C
US_REFERENCE_PA = 98_210.0  # 40 CFR 1066.305: 98.21 kPa
US_REFERENCE_AIR_KG_M3 = 1.16751  # dry air at that state, CIPM-2007 (40 CFR 1066.310 rounds to 1.17)
WLTP_REFERENCE_K = 293.15  # UN GTR 15 annex 4: 20 °C
WLTP_REFERENCE_PA = 100_000.0  # UN GTR 15 annex 4: 100 kPa
WLTP_REFERENCE_AIR_KG_M3 = 1.189  # UN GTR 15 annex 4, dry air

DRIVER_KG = 75.0  # Regulation (EU) 2017/1151: mass of the driver in "running order"
US_TEST_LOAD_KG = 136.07771  # 300 lb, 40 CFR 86.129-00(f)(1): loaded vehicle weight over kerb mass

GALLON_M3 = 3.785411784e-3  # US gallon, exact
PETROL_J_M3 = 33.705 * 3.6e6 / GALLON_M3  # 40 CFR 600.002: 33.705 kWh a gallon
DIESEL_J_M3 = 36.7 * 3.6e6 / GALLON_M3  # 40 CFR 600.002: 36.7 kWh a gallon
PETROL_CO2_KG_M3 = 8.887 / GALLON_M3  # 40 CFR 600.210-12: 8 887 g a gallon
DIESEL_CO2_KG_M3 = 10.180 / GALLON_M3  # 40 CFR 600.311-12: 10 180 g a gallon
