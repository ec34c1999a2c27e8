"""Tracer: follows light through a setting, in a process of its own, since what it needs may end the process.

``python tracer.py FOLDER VARIANT`` reads ``setting.npz`` and ``setting.json`` there, prints ``pass I N`` after each
pass and leaves ``light.npy`` and ``albedo.npy``: linear light without noise, and the colours of what it falls on,
each (height, width, 3). It imports nothing of ours.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import numpy as np

DEPTH = 8
"""How often light is followed on."""


def main(folder: Path, variant: str) -> None:
    import mitsuba as mi

    mi.set_variant(variant)
    mi.set_log_level(mi.LogLevel.Error)
    plan, arrays = json.loads((folder / "setting.json").read_text()), np.load(folder / "setting.npz")
    scene = mi.load_dict(_scene(mi, plan, arrays))
    total: Any = None
    for i in range(plan["passes"]):
        image = np.array(mi.render(scene, spp=1, seed=i), dtype=np.float32)
        # The brightest single samples are held down: they would stay as sparks.
        image[..., :3] = np.minimum(image[..., :3], 60.0)
        total = image if total is None else total + image
        print("pass", i + 1, plan["passes"], flush=True)
    total /= plan["passes"]
    np.save(folder / "light.npy", _calm(total))
    np.save(folder / "albedo.npy", total[..., 3:6])


def _calm(total: Any) -> Any:
    import pyoidn

    colour, albedo, normal = (np.ascontiguousarray(total[..., i : i + 3]) for i in (0, 3, 6))
    return np.asarray(pyoidn.denoise(colour, np.clip(albedo, 0, 1), normal, hdr=True), dtype=np.float32)


def _scene(mi: Any, plan: Any, arrays: Any) -> dict[str, Any]:
    width, height = plan["size"]
    camera = plan["camera"]
    eye, forward = camera["eye"], camera["forward"]
    film = {"type": "hdrfilm", "width": width, "height": height, "rfilter": {"type": "box"}, "pixel_format": "rgb"}
    scene: dict[str, Any] = {
        "type": "scene",
        "integrator": {
            "type": "aov",
            "aovs": "albedo:albedo,normal:sh_normal",
            "light": {"type": "path", "max_depth": DEPTH, "rr_depth": 4},
        },
        "sensor": {
            "type": "perspective",
            "fov": camera["fov"],
            "fov_axis": "x",
            "principal_point_offset_y": camera["shift"],
            "near_clip": 0.05,
            "to_world": mi.ScalarTransform4f().look_at(
                origin=eye, target=[a + b for a, b in zip(eye, forward, strict=True)], up=[0, 0, 1]
            ),
            "film": film,
            "sampler": {"type": "independent"},
        },
    }
    if plan["sun"]:
        scene["sun"] = {
            "type": "directional",
            "direction": plan["sun"],
            "irradiance": {"type": "rgb", "value": plan["sunlight"]},
        }
    for i, lamp in enumerate(plan["lamps"]):
        scene[f"lamp{i}"] = _lamp(mi, lamp, arrays)
    for i, look in enumerate(plan["looks"]):
        scene[f"mesh{i}"] = _mesh(mi, i, look, arrays)
    return scene


def _lamp(mi: Any, lamp: Any, arrays: Any) -> dict[str, Any]:
    a, b, m = (np.array(lamp[k]) for k in ("across", "up", "middle"))
    n = np.cross(a, b)
    n = n / np.linalg.norm(n)
    matrix = np.eye(4)
    matrix[:3, 0], matrix[:3, 1], matrix[:3, 2], matrix[:3, 3] = a, b, n, m
    radiance: dict[str, Any] = {"type": "rgb", "value": lamp["radiance"]}
    if lamp["view"]:
        picture = arrays["outside"] * np.array(lamp["radiance"], dtype=np.float32)
        radiance = {"type": "bitmap", "bitmap": mi.Bitmap(picture.astype(np.float32)), "raw": True}
    return {
        "type": "rectangle",
        "to_world": mi.ScalarTransform4f(matrix.tolist()),
        "emitter": {"type": "area", "radiance": radiance},
        "bsdf": {"type": "diffuse", "reflectance": {"type": "rgb", "value": 0.0}},
    }


def _mesh(mi: Any, i: int, look: Any, arrays: Any) -> Any:
    v, n, uv, f = (arrays[f"{k}{i}"] for k in ("v", "n", "t", "f"))
    props = mi.Properties()
    props["bsdf"] = mi.load_dict(_bsdf(mi, i, look, arrays))
    mesh = mi.Mesh(f"mesh{i}", len(v), len(f), has_vertex_normals=True, has_vertex_texcoords=True, props=props)
    params = mi.traverse(mesh)
    params["vertex_positions"] = v.ravel()
    params["vertex_normals"] = n.ravel()
    params["vertex_texcoords"] = uv.ravel()
    params["faces"] = f.ravel()
    params.update()
    return mesh


def _bsdf(mi: Any, i: int, look: Any, arrays: Any) -> dict[str, Any]:
    if look["glass"]:
        return {"type": "thindielectric", "int_ior": 1.5, "ext_ior": 1.0}
    colour: dict[str, Any] = {"type": "rgb", "value": look["colour"]}
    if f"p{i}" in arrays:
        colour = {"type": "bitmap", "bitmap": mi.Bitmap(arrays[f"p{i}"]), "raw": False}
    plain: dict[str, Any] = {
        "type": "principled",
        "base_color": colour,
        "roughness": look["roughness"],
        "metallic": look["metallic"],
        "specular": look["specular"],
        "anisotropic": look["brushed"],
    }
    if look["matt"]:
        plain = {"type": "diffuse", "reflectance": colour}
    return {"type": "twosided", "bsdf": plain}


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
