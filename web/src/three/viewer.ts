//! The 3-D view itself: the program's GLB, light, a camera that goes round it. Nothing moves unless asked.
import {
  AmbientLight,
  Box3,
  Color,
  DirectionalLight,
  EdgesGeometry,
  HemisphereLight,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshStandardMaterial,
  type Object3D,
  PerspectiveCamera,
  Scene,
  Vector3,
  WebGLRenderer,
} from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";
import { GLTFLoader } from "three/addons/loaders/GLTFLoader.js";
import { explosion } from "./explode.ts";

export interface Viewer {
  /** Shows a body; gives the names of its parts. */
  show(src: string): Promise<string[]>;
  /** Draws its parts apart, from nought to one. */
  apart(by: number): void;
  light(dark: boolean): void;
  key(name: string): boolean;
  home(): void;
  close(): void;
}

export function viewerIn(parent: HTMLElement, isDark: boolean): Viewer {
  const renderer = new WebGLRenderer({ antialias: true, alpha: true });
  renderer.setPixelRatio(Math.min(2, devicePixelRatio));
  parent.append(renderer.domElement);
  const scene = new Scene();
  const camera = new PerspectiveCamera(32, 1, 0.1, 20000);
  camera.up.set(0, 0, 1);
  const controls = new OrbitControls(camera, renderer.domElement);
  controls.enableDamping = false;
  const lamps = lampsIn(scene);
  let body: Object3D | null = null;
  let parts: { mesh: Object3D; from: Vector3; by: Vector3 }[] = [];
  let spread = 0;
  let fresh = false;
  const edges = new LineBasicMaterial({ color: isDark ? 0x000000 : 0x1b1f23, transparent: true, opacity: 0.55 });

  const draw = () => renderer.render(scene, camera);
  const size = () => {
    const { width, height } = parent.getBoundingClientRect();
    if (width === 0 || height === 0) return;
    renderer.setSize(width, height, false);
    camera.aspect = width / height;
    camera.updateProjectionMatrix();
    draw();
  };
  const observer = new ResizeObserver(size);
  observer.observe(parent);
  controls.addEventListener("change", draw);

  const home = () => {
    if (!body) return;
    const box = new Box3().setFromObject(body);
    const middle = box.getCenter(new Vector3());
    const radius = Math.max(1, box.getSize(new Vector3()).length() / 2);
    const far = radius / Math.sin((camera.fov * Math.PI) / 360) / Math.min(1, camera.aspect || 1);
    camera.position.copy(middle).add(new Vector3(0.45, -0.8, 0.5).normalize().multiplyScalar(far * 0.95));
    camera.near = far / 100;
    camera.far = far * 10;
    camera.updateProjectionMatrix();
    controls.target.copy(middle);
    controls.update();
    draw();
  };
  const place = () => {
    for (const p of parts) p.mesh.position.copy(p.from).addScaledVector(p.by, spread);
    draw();
  };

  return {
    async show(src) {
      const gltf = await new GLTFLoader().loadAsync(src);
      const first = body === null;
      if (body) {
        scene.remove(body);
        dispose(body);
      }
      body = gltf.scene;
      // The file turns and shrinks its millimetres to what others expect; here they stay as they are, z up.
      for (const root of body.children) {
        root.quaternion.identity();
        root.scale.setScalar(1);
      }
      scene.add(body);
      body.updateMatrixWorld(true);
      parts = partsOf(body, edges);
      place();
      if (first) size();
      fresh = first;
      return parts.map((p) => p.mesh.name.replaceAll("_", " ")).filter((n) => n !== "");
    },
    apart(by) {
      spread = by;
      place();
      if (fresh) home();
      fresh = false;
    },
    light(dark) {
      edges.color = new Color(dark ? 0x000000 : 0x1b1f23);
      for (const l of lamps) l.intensity = l.userData.day * (dark ? 0.85 : 1);
      draw();
    },
    key(name) {
      const turn = { ArrowLeft: [-0.15, 0], ArrowRight: [0.15, 0], ArrowUp: [0, 0.12], ArrowDown: [0, -0.12] }[name];
      if (turn) orbit(camera, controls, turn[0] ?? 0, turn[1] ?? 0);
      else if (name === "+" || name === "=") dolly(camera, controls, 0.85);
      else if (name === "-") dolly(camera, controls, 1 / 0.85);
      else if (name === "0" || name === "Home") home();
      else return false;
      draw();
      return true;
    },
    home,
    close() {
      observer.disconnect();
      controls.dispose();
      if (body) dispose(body);
      renderer.dispose();
      renderer.domElement.remove();
    },
  };
}

function lampsIn(scene: Scene) {
  const sky = new HemisphereLight(0xffffff, 0x8a8f96, 1.6);
  const key = new DirectionalLight(0xffffff, 2.2);
  key.position.set(-2, -3, 4);
  const fill = new DirectionalLight(0xffffff, 1);
  fill.position.set(3, 2, 1);
  const all = [sky, key, fill, new AmbientLight(0xffffff, 0.5)];
  for (const l of all) {
    l.userData.day = l.intensity;
    scene.add(l);
  }
  return all;
}

/** The meshes with an outline each, and the way each goes when drawn apart. */
function partsOf(body: Object3D, edges: LineBasicMaterial) {
  const meshes: Mesh[] = [];
  body.traverse((o) => {
    if (o instanceof Mesh) meshes.push(o);
  });
  const boxes = meshes.map((m) => {
    const box = new Box3().setFromObject(m);
    return { name: m.name, min: box.min.toArray(), max: box.max.toArray() };
  });
  const ways = explosion(boxes);
  return meshes.map((mesh, i) => {
    mesh.add(new LineSegments(new EdgesGeometry(mesh.geometry, 28), edges));
    // Metal without surroundings to mirror looks black; what shines here is only the lamps.
    if (mesh.material instanceof MeshStandardMaterial) {
      mesh.material.metalness = Math.min(mesh.material.metalness, 0.25);
      mesh.material.roughness = 0.55;
    }
    return { mesh, from: mesh.position.clone(), by: new Vector3().fromArray(ways[i] ?? [0, 0, 0]) };
  });
}

function orbit(camera: PerspectiveCamera, controls: OrbitControls, round: number, up: number): void {
  const at = camera.position.clone().sub(controls.target);
  const side = at.clone().cross(camera.up).normalize();
  at.applyAxisAngle(camera.up, round);
  const raised = at.clone().applyAxisAngle(side, -up);
  // Never over the pole, where up and down change places.
  if (Math.abs(raised.z) < raised.length() * 0.97) at.copy(raised);
  camera.position.copy(controls.target).add(at);
  controls.update();
}

function dolly(camera: PerspectiveCamera, controls: OrbitControls, by: number): void {
  const at = camera.position.clone().sub(controls.target).multiplyScalar(by);
  camera.position.copy(controls.target).add(at);
  controls.update();
}

function dispose(body: Object3D): void {
  body.traverse((o) => {
    if (o instanceof Mesh || o instanceof LineSegments) o.geometry.dispose();
    if (o instanceof Mesh) for (const m of [o.material].flat()) m.dispose();
  });
}
