"""The folders of the checkout, in; the packages of the wheel, out. All else is in pyproject.toml.

The list writes itself, so that a new folder in generator/ needs no second edit; only schema/, which
people find at the top of the checkout, is named, because it becomes generator/schema/.
"""

from setuptools import find_namespace_packages, setup

code = find_namespace_packages(include=["generator", "generator.*"], exclude=["*.__pycache__"])
setup(packages=[*code, "generator.schema"], package_dir={"generator.schema": "schema"})
