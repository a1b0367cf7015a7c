# SPDX-License-Identifier: Apache-2.0
"""Write the weather of Corbel Farm anew: thirty invented years, the same every time.

python3 -m tools.corbel_weather

How it is drawn, and with which seed, stands in `tools/sites/weather.py`.
"""

from tools.sites.weather import CORBEL, write

if __name__ == "__main__":
    write(CORBEL)
