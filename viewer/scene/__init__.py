"""Scene: a kitchen as meshes with materials, and as glTF.

scene       the scene of a kitchen                  items        things with a surface and a material
surface     triangles of parts                      materials    what things look like
textures    procedural pictures of materials        pieces       bytes of meshes and textures, by content
gltf        a scene written as glTF                 extras       what the browser is to know of a part
openings    how it opens in the view                labels       what a person calls a part
joinery     slots, bolts and joins                  fixtures     what is fixed to the room
room        walls, floor, windows and doors         tiling       tiles over their grout

On which side a door hangs is the unit's ``hand``, and its part's hinge (`model.units.fronts`).
"""
